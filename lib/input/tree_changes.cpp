#include "input/tree_changes.hpp"

#include <algorithm>

#include <fmt/core.h>

#include "input/fields.hpp"
#include "input/nearest.hpp"

namespace linewright::input {

std::string in_line(const std::vector<Entry>& entries) {
  std::string text;
  for (const Entry& entry : entries)
    text += fmt::format("{}{}: {}", text.empty() ? "" : ", ", entry.key, entry.value);
  return text;
}

Done TreeChanges::untold(std::string_view what) {
  return fail(fmt::format("where '{}' is described cannot be told for sure", what));
}

void TreeChanges::put(std::size_t at, std::size_t length, std::string words) {
  changes_.push_back({at, length, std::move(words)});
}

std::string TreeChanges::margin() const {
  return std::string(static_cast<std::size_t>(root_.where.column - 1), ' ');
}

Done TreeChanges::wrap(const Node& node, std::string_view key, const std::vector<Entry>& entries) {
  const bool safe = node.quoted || node.text.find_first_of(",[]{}#") == std::string::npos;
  if (!FileText::is_exact(node) || !safe) return untold(node.text);
  put(text_.byte(node.where), 0, fmt::format("{{{}: ", key));
  put(text_.end(node.where), 0, fmt::format(", {}}}", in_line(entries)));
  return {};
}

Done TreeChanges::set_in(const Node& map, const std::vector<Entry>& entries) {
  std::vector<Entry> added;
  for (const Entry& entry : entries) {
    const Node* old = find_key(map, plain(entry.key));
    if (old == nullptr) {
      added.push_back(entry);
      continue;
    }
    const auto end = text_.end_of(*old);
    if (!end) return untold(entry.key);
    const std::size_t at = text_.byte(old->where);
    put(at, *end - at, entry.value);
  }
  return added.empty() ? Done{} : add_to(map, added);
}

Done TreeChanges::remove(const Node& map, std::size_t index) {
  const std::size_t at = text_.byte(map.keys[index].where);
  const auto end = text_.end_of(map.items[index]);
  if (!end) return untold(map.keys[index].text);
  const bool is_last = index + 1 == map.keys.size();
  if (text_.in_brackets(map)) {
    const std::size_t next = is_last ? *end : text_.byte(map.keys[index + 1].where);
    if (!is_last || index == 0) return erase(at, next);
    const auto previous = text_.end_of(map.items[index - 1]);
    return previous ? erase(*previous, *end) : untold(map.keys[index].text);
  }
  const std::size_t line_end = text_.line_end(*end);
  const std::string_view behind = text_.text().substr(*end, line_end - *end);
  const bool alone_on_line =
      text_.ahead_on_line(at).find_first_not_of(' ') == std::string_view::npos &&
      behind.find_first_not_of(" \t") == std::string_view::npos;
  if (alone_on_line)
    return erase(text_.line_start(at),
                 std::min(text_.text().find('\n', line_end), text_.text().size() - 1) + 1);
  const bool begins_item = index == 0 && !is_last;
  return begins_item ? erase(at, text_.byte(map.keys[1].where)) : erase(at, *end);
}

Done TreeChanges::erase(std::size_t from, std::size_t to) {
  put(from, to - from, {});
  return {};
}

Done TreeChanges::add_to(const Node& map, const std::vector<Entry>& entries) {
  const bool in_brackets = text_.in_brackets(map);
  const std::string indent(static_cast<std::size_t>(map.where.column - 1), ' ');
  const auto last = std::find_if(map.items.rbegin(), map.items.rend(), FileText::is_exact);
  if (in_brackets && map.items.empty()) {
    put(text_.byte(map.where) + 1, 0, in_line(entries));
  } else if (in_brackets && last != map.items.rend()) {
    put(text_.end(last->where), 0, ", " + in_line(entries));
  } else if (in_brackets) {
    put(text_.byte(map.keys.front().where), 0, in_line(entries) + ", ");
  } else if (last != map.items.rend()) {
    std::string lines;
    for (const Entry& entry : entries)
      lines += fmt::format("{}{}{}: {}", text_.line_break(), indent, entry.key, entry.value);
    put(text_.line_end(text_.end(last->where)), 0, lines);
  } else {
    std::string lines;
    for (const Entry& entry : entries)
      lines += fmt::format("{}: {}{}{}", entry.key, entry.value, text_.line_break(), indent);
    put(text_.byte(map.where), 0, lines);
  }
  return {};
}

Done TreeChanges::add_to_section(const std::string& section, const Entry& entry) {
  const Node* there = find_key(root_, section);
  if (there != nullptr && there->is_map()) return set_in(*there, {entry});
  if (there != nullptr) return untold(section);
  return append(fmt::format("{}{}:{}{}  {}: {}{}", margin(), section, text_.line_break(), margin(),
                            entry.key, entry.value, text_.line_break()));
}

Done TreeChanges::append(const std::string& lines) {
  if (text_.in_brackets(root_)) return fail("the file is one map in braces");
  const std::string_view text = text_.text();
  const std::string_view ahead = text.ends_with('\n') ? "" : text_.line_break();
  put(text.size(), 0, std::string(ahead) + lines);
  return {};
}

Done TreeChanges::insert_ahead(const Node& list, std::size_t index, const std::string& item) {
  const std::size_t at = text_.byte(list.items[index].where);
  if (text_.in_brackets(list)) {
    put(at, 0, item + ", ");
    return {};
  }
  // The margin of the line with a blank for the dash that the item ahead of it takes over.
  const std::string indent(text_.ahead_on_line(at));
  const std::size_t dash = indent.rfind('-');
  if (dash == std::string::npos || indent.find_first_not_of(" -") != std::string::npos)
    return untold("list");
  const std::string margin_of_dash(dash, ' ');
  put(at, 0, item + std::string(text_.line_break()) + margin_of_dash + indent.substr(dash));
  return {};
}

Done TreeChanges::insert_behind(const Node& list, const std::string& item) {
  const Node& last = list.items.back();
  if (!FileText::is_exact(last)) return untold(last.text);
  const std::size_t end = text_.end(last.where);
  if (text_.in_brackets(list)) {
    put(end, 0, ", " + item);
    return {};
  }
  const std::string_view ahead = text_.ahead_on_line(text_.byte(last.where));
  const std::size_t dash = ahead.rfind('-');
  if (dash == std::string_view::npos) return untold(last.text);
  put(text_.line_end(end), 0,
      fmt::format("{}{}- {}", text_.line_break(), std::string(dash, ' '), item));
  return {};
}

}  // namespace linewright::input

// The account of the states as a table for people: states side by side, cells broken at spaces.
#include <algorithm>
#include <map>
#include <sstream>

#include <fmt/core.h>

#include "documents/states_account.hpp"
#include "documents/text_table.hpp"

namespace linewright::documents {
namespace {

constexpr std::size_t indent = 2;
constexpr std::size_t gap = 2;
constexpr std::size_t widest_label = 30;
constexpr std::size_t narrowest_column = 4;

std::size_t longest_word(const std::string& text) {
  std::size_t longest = 0;
  std::istringstream words(text);
  for (std::string word; words >> word;)
    longest = std::max(longest, characters(word));
  return longest;
}

std::string_view title_of(AccountPart part) {
  switch (part) {
    case AccountPart::switches:
      return "Switches";
    case AccountPart::sources:
      return "Sources";
    case AccountPart::boards:
      return "Boards: fed by";
    case AccountPart::bonds:
      return "Neutral-earth bonds of what this source feeds: number and place";
    case AccountPart::earthing:
      return "Kind of earthing of what this source feeds";
    case AccountPart::rcds:
      return "RCD that sees an earth fault of a circuit (own: the circuit's device)";
  }
  return "";
}

std::string with_own(std::string cell, const std::string& device) {
  if (device.empty()) return cell;
  std::string text;
  std::istringstream words(cell);
  for (std::string word; words >> word;)
    text += (text.empty() ? "" : " ") + (word == device ? "own" : word);
  return text;
}

/// Circuits of one board that are alike become one row that names them all.
std::vector<AccountRow> gathered(const std::vector<AccountRow>& circuits) {
  std::vector<AccountRow> rows;
  for (AccountRow one : circuits) {
    for (std::string& cell : one.cells)
      cell = with_own(cell, one.device);
    const std::string& called = one.device.empty() ? one.subject : one.device;
    const auto same = std::ranges::find_if(rows, [&](const AccountRow& row) {
      return row.group == one.group && row.cells == one.cells;
    });
    if (same != rows.end()) {
      same->subject += " " + called;
      continue;
    }
    one.subject = (one.group.empty() ? "" : one.group + " ") + called;
    one.name.clear();
    rows.push_back(std::move(one));
  }
  return rows;
}

std::string label_of(const AccountRow& row) {
  return row.name.empty() ? row.subject : row.subject + " " + row.name;
}

/// Columns `from` to `to` of the states with their widths.
struct Block {
  std::size_t from = 0;
  std::size_t to = 0;
  std::size_t label = 0;
  std::vector<std::size_t> widths;
};

using Parts = std::vector<AccountSection>;

template <class Measure>
std::size_t column_width(const StatesAccount& account, const Parts& parts, std::size_t state,
                         Measure measure) {
  std::size_t width = std::max(narrowest_column, measure(account.states[state]));
  for (const AccountSection& part : parts)
    for (const AccountRow& row : part.rows)
      width = std::max(width, measure(row.cells[state]));
  return width;
}

// As many states as stand side by side; the widest columns give way first.
Block block_from(const StatesAccount& account, const Parts& parts, std::size_t from,
                 std::size_t label, std::size_t width) {
  const std::size_t room = width > indent + label ? width - indent - label : 0;
  Block block{.from = from, .to = from, .label = label, .widths = {}};
  std::vector<std::size_t> least;
  std::size_t used = 0;
  for (std::size_t s = from; s < account.states.size(); ++s) {
    const std::size_t need = column_width(account, parts, s, longest_word);
    if (s > from && used + gap + need > room) break;
    used += gap + need;
    least.push_back(need);
    block.widths.push_back(
        column_width(account, parts, s, [](const std::string& text) { return characters(text); }));
    block.to = s + 1;
  }
  const auto total = [&] {
    std::size_t sum = 0;
    for (const std::size_t one : block.widths)
      sum += gap + one;
    return sum;
  };
  while (total() > room) {
    std::size_t widest = block.widths.size();
    for (std::size_t c = 0; c < block.widths.size(); ++c)
      if (block.widths[c] > least[c] &&
          (widest == block.widths.size() || block.widths[c] > block.widths[widest]))
        widest = c;
    if (widest == block.widths.size()) break;
    --block.widths[widest];
  }
  return block;
}

void write_row(const Block& block, const std::string& label, const std::vector<std::string>& cells,
               std::string& text) {
  std::vector<std::vector<std::string>> columns{broken(label, block.label)};
  for (std::size_t s = block.from; s < block.to; ++s)
    columns.push_back(broken(cells[s], block.widths[s - block.from]));
  std::size_t lines = 0;
  for (const auto& column : columns)
    lines = std::max(lines, column.size());
  for (std::size_t l = 0; l < lines; ++l) {
    std::string line(indent, ' ');
    for (std::size_t c = 0; c < columns.size(); ++c) {
      const std::string cell = l < columns[c].size() ? columns[c][l] : "";
      const std::size_t width = c == 0 ? block.label : block.widths[c - 1];
      line += cell;
      line.append(width > characters(cell) ? width - characters(cell) : 0, ' ');
      line.append(gap, ' ');
    }
    line.erase(line.find_last_not_of(' ') + 1);
    text += line + "\n";
  }
}

void write_list(const std::string& title, const std::vector<std::string>& items, std::size_t width,
                std::string& text) {
  if (items.empty()) return;
  text += "\n" + title + "\n";
  std::string words;
  for (const std::string& item : items)
    words += item + " ";
  for (const std::string& line : broken(words, width - indent))
    text += std::string(indent, ' ') + line + "\n";
}

}  // namespace

std::string account_text(const StatesAccount& account, std::size_t width) {
  if (account.states.empty()) return "The file names no state.\n";
  Parts parts = account.sections;
  std::size_t label = 0;
  for (AccountSection& part : parts) {
    if (part.part == AccountPart::rcds) part.rows = gathered(part.rows);
    for (const AccountRow& row : part.rows)
      label = std::max(
          {label, std::min(characters(label_of(row)), widest_label), longest_word(label_of(row))});
  }
  std::string text;
  for (std::size_t from = 0; from < account.states.size();) {
    const Block block = block_from(account, parts, from, label, width);
    if (from > 0) text += "\n";
    write_row(block, "", account.states, text);
    for (const AccountSection& part : parts) {
      if (part.rows.empty()) continue;
      text += fmt::format("\n{}\n", title_of(part.part));
      for (const AccountRow& row : part.rows)
        write_row(block, label_of(row), row.cells, text);
    }
    from = block.to;
  }
  write_list("Closed in every state", account.always_closed, width, text);
  write_list("Open in every state", account.always_open, width, text);
  text += "\nNot known from the file\n";
  if (account.not_known.empty()) text += "  nothing of the above\n";
  for (const std::string& line : account.not_known)
    text += "  " + line + "\n";
  return text;
}

}  // namespace linewright::documents

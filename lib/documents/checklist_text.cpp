// The answered checklist for people and for programs.
#include <algorithm>
#include <array>

#include <fmt/core.h>

#include "documents/checklist.hpp"
#include "documents/text_table.hpp"
#include "findings/json.hpp"

namespace linewright::documents {
namespace {

constexpr std::size_t width = 100;
constexpr std::size_t item_column = 5;

std::string_view word(Standing standing) {
  switch (standing) {
    case Standing::shown:
      return "shown";
    case Standing::missing:
      return "missing";
    case Standing::on_site:
      return "on site";
    case Standing::not_here:
      return "not here";
    case Standing::elsewhere:
      return "elsewhere";
  }
  return "";
}

std::string_view heading_of(Standing standing) {
  switch (standing) {
    case Standing::shown:
      return "On the drawing";
    case Standing::missing:
      return "Missing";
    case Standing::on_site:
      return "Only a person on site can supply it: the drawing has a space for it";
    case Standing::not_here:
      return "Not asked of this site";
    case Standing::elsewhere:
      return "Belongs on another paper";
  }
  return "";
}

std::string indented(const std::string& words, std::size_t indent) {
  std::string text;
  for (const std::string& line : broken(words, width - indent))
    text += std::string(indent, ' ') + line + "\n";
  return text;
}

std::string listed_few(const std::vector<std::string>& all) {
  constexpr std::size_t most = 4;
  std::string text;
  for (std::size_t i = 0; i < std::min(most, all.size()); ++i)
    text += (i == 0 ? "" : ", ") + all[i];
  if (all.size() > most) text += fmt::format(" and {} more", all.size() - most);
  return text;
}

/// The same key at several places, told once.
struct GapsOfKey {
  const Gap* first = nullptr;
  std::vector<std::string> at;
};

std::vector<GapsOfKey> by_key(const std::vector<Gap>& gaps) {
  std::vector<GapsOfKey> groups;
  for (const Gap& gap : gaps) {
    auto group = std::ranges::find_if(
        groups, [&](const GapsOfKey& each) { return each.first->key == gap.key; });
    if (group == groups.end()) group = groups.insert(groups.end(), {&gap, {}});
    if (!gap.at.empty()) group->at.push_back(gap.at);
  }
  return groups;
}

std::string gap_text(const GapsOfKey& gaps) {
  std::string text = gaps.first->key;
  if (!gaps.at.empty()) text += " at " + listed_few(gaps.at);
  text = indented(text, item_column);
  if (!gaps.first->example.empty()) text += indented(gaps.first->example, item_column + 2);
  return text;
}

std::string answer_text(const ChecklistAnswer& answer) {
  std::string places = listed_few(answer.places);
  if (!answer.remark.empty()) places += (places.empty() ? "" : "; ") + answer.remark;
  const std::string line = places.empty() ? std::string(answer.item->item)
                                          : fmt::format("{}: {}", answer.item->item, places);
  std::string text = indented(line, item_column);
  text.replace(0, item_column, fmt::format("{:>3}  ", answer.item->number));
  for (const GapsOfKey& gaps : by_key(answer.gaps))
    text += gap_text(gaps);
  return text;
}

std::size_t count_of(const std::vector<ChecklistAnswer>& answers, Standing standing) {
  return static_cast<std::size_t>(std::ranges::count_if(
      answers, [&](const ChecklistAnswer& answer) { return answer.standing == standing; }));
}

constexpr std::array<Standing, 5> order{Standing::missing, Standing::on_site, Standing::shown,
                                        Standing::not_here, Standing::elsewhere};

std::string gaps_json(const std::vector<Gap>& gaps) {
  std::string text;
  for (const Gap& gap : gaps)
    text += fmt::format("{}{{\"at\": {}, \"key\": {}, \"example\": {}}}", text.empty() ? "" : ", ",
                        findings::json_string(gap.at), findings::json_string(gap.key),
                        findings::json_string(gap.example));
  return "[" + text + "]";
}

std::string answer_json(const ChecklistAnswer& answer) {
  const ChecklistItem& item = *answer.item;
  return fmt::format(
      "    {{\"number\": {}, \"group\": {}, \"item\": {}, \"asked by\": {}, \"where\": {}, "
      "\"standing\": {}, \"places\": {}, \"missing\": {}, \"remark\": {}}}",
      item.number, findings::json_string(item.group), findings::json_string(item.item),
      findings::json_string(item.asked_by), findings::json_string(item.where),
      findings::json_string(word(answer.standing)), findings::json_strings(answer.places),
      gaps_json(answer.gaps), findings::json_string(answer.remark));
}

}  // namespace

std::string checklist_text(const std::vector<ChecklistAnswer>& answers,
                           std::string_view site_name) {
  std::string text = fmt::format(
      "Permit checklist of {}: {} items, {} on the drawing, {} missing, {} to fill in on site\n"
      "Places are sheet/zone. Merged from many countries' lists: the form of your authority "
      "decides.\n",
      site_name.empty() ? "the site" : site_name, answers.size(),
      count_of(answers, Standing::shown), count_of(answers, Standing::missing),
      count_of(answers, Standing::on_site));
  for (const Standing standing : order) {
    if (count_of(answers, standing) == 0) continue;
    text += fmt::format("\n{} ({})\n", heading_of(standing), count_of(answers, standing));
    if (standing == Standing::missing)
      text += "     Below each: the key of the site file, and a line that supplies it.\n";
    for (const ChecklistAnswer& answer : answers)
      if (answer.standing == standing) text += answer_text(answer);
  }
  return text;
}

std::string checklist_json(const std::vector<ChecklistAnswer>& answers) {
  std::string text;
  for (const ChecklistAnswer& answer : answers)
    text += (text.empty() ? "" : ",\n") + answer_json(answer);
  return fmt::format("{{\n  \"format\": 1,\n  \"items\": [\n{}\n  ]\n}}\n", text);
}

}  // namespace linewright::documents

#include "documents/checklist.hpp"

#include <algorithm>
#include <array>

#include <fmt/core.h>

#include "documents/checklist_parts.hpp"
#include "units/ensure.hpp"

namespace linewright::documents {
namespace {

// Words as they are compared: lines are broken at spaces, and after a hyphen without one.
std::string closed_up(std::string_view words) {
  std::string text;
  for (const char c : words)
    if (c != ' ') text += c;
  return text;
}

std::string place_of(const DrawnGroup& group) {
  return group.zone.empty() ? fmt::format("{}", group.sheet)
                            : fmt::format("{}/{}", group.sheet, group.zone);
}

void add_place(ChecklistAnswer& answer, const DrawnGroup& group) {
  const std::string place = place_of(group);
  if (std::ranges::find(answer.places, place) == answer.places.end())
    answer.places.push_back(place);
}

Judge judge_of(int number) {
  for (const auto judges :
       {judges_of_papers(), judges_of_supply(), judges_of_sources(), judges_of_transfer()})
    for (const JudgeOf& each : judges)
      if (each.number == number) return each.judge;
  return nullptr;
}

bool on_diagram(const ChecklistItem& item) {
  return item.where.find_first_of("DTN") != std::string_view::npos;
}

std::string other_papers(const ChecklistItem& item) {
  std::vector<std::string> papers;
  for (const char where : item.where) {
    if (where == 'S') papers.emplace_back("schedules");
    if (where == 'W') papers.emplace_back("notices");
    if (where == 'P') papers.emplace_back("plan");
    if (where == 'A') papers.emplace_back("attached paper");
  }
  return listed(papers);
}

std::string in_quotes(const std::vector<std::string>& words) {
  constexpr std::size_t most = 3;
  std::string text;
  for (std::size_t i = 0; i < std::min(most, words.size()); ++i)
    text += fmt::format("{}'{}'", i == 0 ? "" : ", ", words[i]);
  if (words.size() > most) text += fmt::format(" and {} more", words.size() - most);
  return text;
}

ChecklistAnswer judged(const Ask& ask) {
  if (!on_diagram(ask.item))
    return {.item = &ask.item,
            .standing = Standing::elsewhere,
            .places = {},
            .gaps = {},
            .remark = other_papers(ask.item)};
  const Judge judge = judge_of(ask.item.number);
  ENSURE(judge != nullptr);
  Judgement judgement{.answer = {.item = &ask.item, .standing = Standing::shown}};
  judge(ask, judgement);
  ChecklistAnswer& answer = judgement.answer;
  if (judgement.nothing_here) {
    answer.standing = Standing::not_here;
    answer.places.clear();
  } else if (!answer.gaps.empty()) {
    answer.standing = Standing::missing;
    answer.places.clear();
  } else if (!judgement.not_drawn.empty()) {
    answer.standing = Standing::missing;
    answer.places.clear();
    answer.remark = "the file gives it, no sheet shows it: " + in_quotes(judgement.not_drawn);
  }
  return std::move(answer);
}

}  // namespace

DrawnIndex::DrawnIndex(const std::vector<DrawnGroup>& all) : groups(all) {
  for (std::size_t i = 0; i < all.size(); ++i) {
    closed_up_.push_back(closed_up(all[i].text));
    if (!all[i].id.empty() && all[i].kind != "reference") by_id_.try_emplace(all[i].id, i);
  }
}

const DrawnGroup* DrawnIndex::find(const std::string& designation) const {
  const auto found = by_id_.find(designation);
  return found == by_id_.end() ? nullptr : &groups[found->second];
}

bool DrawnIndex::says(const DrawnGroup& group, std::string_view words) const {
  const auto index = static_cast<std::size_t>(&group - groups.data());
  return closed_up_[index].find(closed_up(words)) != std::string::npos;
}

void Judgement::lacks(const Ask& ask, std::string at) {
  lacks(std::move(at), ask.item.key, ask.item.example);
}

void Judgement::lacks(std::string at, std::string_view key, std::string_view example) {
  answer.gaps.push_back({std::move(at), std::string(key), std::string(example)});
}

void Judgement::look_for(const Ask& ask, std::string_view words, std::string_view kind) {
  for (const DrawnGroup& group : ask.drawn.groups)
    if ((kind.empty() || group.kind == kind) && ask.drawn.says(group, words))
      return add_place(answer, group);
  not_drawn.emplace_back(words);
}

void Judgement::look_for_element(const Ask& ask, const std::string& designation,
                                 const std::vector<std::string>& words) {
  const DrawnGroup* group = ask.drawn.find(designation);
  if (group == nullptr) {
    not_drawn.push_back(designation);
    return;
  }
  add_place(answer, *group);
  for (const std::string& word : words)
    if (!word.empty() && !ask.drawn.says(*group, word))
      not_drawn.push_back(fmt::format("{} {}", designation, word));
}

bool Judgement::look_for_lines(const Ask& ask) {
  bool any = false;
  for (const PermitLine& line : ask.lines) {
    if (std::ranges::find(line.items, ask.item.number) == line.items.end()) continue;
    any = true;
    look_for(ask, line.words);
    if (line.subject == PermitSubject::on_site) answer.standing = Standing::on_site;
  }
  return any;
}

void Judgement::not_here(std::string why) {
  nothing_here = true;
  answer.remark = std::move(why);
}

void by_lines(const Ask& ask, Judgement& judgement) {
  if (!judgement.look_for_lines(ask)) judgement.lacks(ask);
}

std::vector<ChecklistAnswer> checklist(const PermitFacts& facts,
                                       const std::vector<DrawnGroup>& drawn) {
  const std::vector<PermitLine> lines = permit_lines(facts);
  const DrawnIndex index(drawn);
  std::vector<ChecklistAnswer> answers;
  for (const ChecklistItem& item : checklist_items())
    answers.push_back(judged({item, facts, lines, index}));
  return answers;
}

}  // namespace linewright::documents

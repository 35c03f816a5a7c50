// Items on who and what, on the place, and on notices.
#include <algorithm>
#include <array>

#include <fmt/core.h>

#include "documents/checklist_parts.hpp"

namespace linewright::documents {
namespace {

constexpr std::string_view block = "title-block";

// Something of the site file that the title block repeats.
void from_title(const Ask& ask, Judgement& judgement, const std::string& words) {
  if (words.empty())
    judgement.lacks(ask);
  else
    judgement.look_for(ask, words, block);
}

void title(const Ask& ask, Judgement& judgement) {
  from_title(ask, judgement, ask.site().title.site_name);
  judgement.look_for(ask, "Document type", block);
}

void address(const Ask& ask, Judgement& judgement) {
  const site::Title& title = ask.site().title;
  if (title.site_address.empty())
    judgement.lacks("", "site: address", "address: 7 Upper Tarn, Sampleton");
  else
    judgement.look_for(ask, title.site_address, block);
  by_lines(ask, judgement);
}

void number(const Ask& ask, Judgement& judgement) {
  from_title(ask, judgement, ask.site().title.drawing_number);
  judgement.look_for(ask, "Sheet 1 of ", block);
}

void revisions(const Ask& ask, Judgement& judgement) {
  const site::Title& title = ask.site().title;
  if (title.revisions.empty()) judgement.lacks(ask);
  constexpr std::size_t most_shown = 6;  // of many the title block has the newest
  const std::size_t first =
      title.revisions.size() > most_shown ? title.revisions.size() - most_shown : 0;
  for (std::size_t i = first; i < title.revisions.size(); ++i) {
    const site::Title::Revision& each = title.revisions[i];
    if (each.change.empty() || each.date.empty()) judgement.lacks(ask, each.index);
    judgement.look_for(ask, each.index + " " + each.date + " " + each.change, block);
  }
  if (title.status.empty())
    judgement.lacks("", "site: status", "status: For approval");
  else
    judgement.look_for(ask, title.status, block);
}

void date(const Ask& ask, Judgement& judgement) {
  from_title(ask, judgement, ask.site().title.date);
}

void scale(const Ask& ask, Judgement& judgement) {
  judgement.look_for(ask, "not to scale", block);
}

bool has_second_supply(const site::Site& site) {
  return !elements_with<site::Generator>(site).empty() ||
         !elements_with<site::Inverter>(site).empty();
}

void clearances(const Ask& ask, Judgement& judgement) {
  if (!has_second_supply(ask.site()))
    return judgement.not_here("no battery, inverter or generator");
  by_lines(ask, judgement);
}

// Boards whose circuits are backed up are alive from another supply than people expect.
void indicators(const Ask& ask, Judgement& judgement) {
  if (!has_second_supply(ask.site())) return judgement.not_here("no other supply than the grid");
  const site::Site& site = ask.site();
  bool any = false;
  for (const std::size_t e : backed_up(site)) {
    const std::size_t assembly = site.elements[e].assembly;
    if (assembly == site::none) continue;
    const site::Assembly& board = site.assemblies[assembly];
    any = any || board.indicator == true;
    const bool told = std::ranges::any_of(
        judgement.answer.gaps, [&](const Gap& gap) { return gap.at == board.designation; });
    if (!board.indicator && !told) judgement.lacks(ask, board.designation);
  }
  if (any)
    judgement.look_for_lines(ask);
  else if (judgement.answer.gaps.empty())
    judgement.not_here("the file says that no board has one");
}

constexpr std::array<JudgeOf, 14> judges{{{1, title},
                                          {2, address},
                                          {3, by_lines},
                                          {4, by_lines},
                                          {5, by_lines},
                                          {6, by_lines},
                                          {7, number},
                                          {8, revisions},
                                          {9, date},
                                          {10, by_lines},
                                          {11, by_lines},
                                          {12, scale},
                                          {71, clearances},
                                          {74, indicators}}};

}  // namespace

std::span<const JudgeOf> judges_of_papers() {
  return judges;
}

}  // namespace linewright::documents

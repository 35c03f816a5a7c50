// How items of the checklist are judged: what is asked of the site, and what is found on the
// sheets.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "documents/checklist.hpp"
#include "documents/permit_parts.hpp"

namespace linewright::documents {

/// The groups of a drawing, to be found by designation and by words.
struct DrawnIndex {
  explicit DrawnIndex(const std::vector<DrawnGroup>& all);

  /// The thing of that designation, or null.
  const DrawnGroup* find(const std::string& designation) const;
  /// Whether these words stand in it, however its lines are broken.
  bool says(const DrawnGroup& group, std::string_view words) const;

  const std::vector<DrawnGroup>& groups;

 private:
  std::vector<std::string> closed_up_;  ///< the words of each group without spaces
  std::unordered_map<std::string, std::size_t> by_id_;
};

/// All that is known when one item is judged.
struct Ask {
  const ChecklistItem& item;
  const PermitFacts& facts;
  const std::vector<PermitLine>& lines;
  const DrawnIndex& drawn;

  const site::Site& site() const { return facts.site; }
};

/// The judgement of one item, under way.
struct Judgement {
  ChecklistAnswer answer;
  std::vector<std::string> not_drawn;  ///< what the file gives and no sheet shows
  bool nothing_here = false;

  /// The file has to say more: the item's own key at that designation, or another one.
  void lacks(const Ask& ask, std::string at = {});
  void lacks(std::string at, std::string_view key, std::string_view example);
  /// These words stand on a sheet, in a group of that kind (any, if empty).
  void look_for(const Ask& ask, std::string_view words, std::string_view kind = {});
  /// The thing of that designation is drawn, and these words of it.
  void look_for_element(const Ask& ask, const std::string& designation,
                        const std::vector<std::string>& words = {});
  /// All lines that answer the item stand on a sheet. False if there are none.
  bool look_for_lines(const Ask& ask);
  /// The site has nothing that the item is asked of.
  void not_here(std::string why);
};

/// Judges one item.
using Judge = void (*)(const Ask&, Judgement&);

/// A judge for each item of these groups; items without are those of other papers.
struct JudgeOf {
  int number;
  Judge judge;
};
std::span<const JudgeOf> judges_of_papers();    ///< who and what, place, notices
std::span<const JudgeOf> judges_of_supply();    ///< supply and earthing, wiring and metering
std::span<const JudgeOf> judges_of_sources();   ///< sources
std::span<const JudgeOf> judges_of_transfer();  ///< transfer, operation, protection

/// Some line answers the item; without one the item's key is what is lacking.
void by_lines(const Ask& ask, Judgement& judgement);

}  // namespace linewright::documents

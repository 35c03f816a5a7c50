#include "diagram/flags.hpp"

#include <algorithm>
#include <utility>

#include "diagram/flag_parts.hpp"
#include "diagram/paper.hpp"

namespace linewright::diagram {
namespace {

// The findings of each element together, in the order of the first.
std::vector<Balloons> by_element(const std::vector<Flag>& flags) {
  std::vector<Balloons> all;
  for (std::size_t i = 0; i < flags.size(); ++i) {
    const std::string& element = flags[i].element;
    if (element.empty() || !flags[i].numbered) continue;
    auto known = std::find_if(all.begin(), all.end(),
                              [&](const Balloons& each) { return each.element == element; });
    if (known == all.end()) known = all.insert(all.end(), {element, {}});
    known->numbers.push_back(i + 1);
  }
  return all;
}

bool is_title_block(const Group& group) {
  return group.kind == "title-block";
}

}  // namespace

Document flag_sheets(const site::Site& site, const Metrics& metrics, const Document& drawing,
                     const std::vector<Flag>& flags, const std::string& rules,
                     const std::string& remark) {
  Document flagged = drawing;
  flagged.title = site.title.site_name + ", findings";
  flagged.subject = "Findings of the check on the single-line diagram";
  std::vector<Balloons> left = by_element(flags);
  for (Sheet& sheet : flagged.sheets) {
    Sketch sketch{.metrics = metrics, .sheet = sheet, .taken = {}, .symbols = {}};
    left = draw_balloons(flags, left, sketch);
    std::erase_if(sheet.groups, is_title_block);
  }
  for (Sheet& sheet : flag_tables(site, metrics, flags, remark))
    flagged.sheets.push_back(std::move(sheet));
  for (std::size_t i = 0; i < flagged.sheets.size(); ++i) {
    add_title_block(
        site,
        {.title = flagged.sheets[i].title == "Findings" ? std::string("Findings")
                                                        : "Findings: " + flagged.sheets[i].title,
         .supplement = site.title.site_name,
         .remark = "not for approval",
         .document_type = "Flag sheet",
         .rules = rules,
         .number = static_cast<int>(i) + 1,
         .count = static_cast<int>(flagged.sheets.size())},
        metrics, flagged.sheets[i]);
  }
  return flagged;
}

}  // namespace linewright::diagram

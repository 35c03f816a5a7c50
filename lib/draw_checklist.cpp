#include <algorithm>
#include <optional>
#include <utility>

#include "diagram/paper.hpp"
#include "documents/checklist.hpp"
#include "draw_parts.hpp"
#include "linewright.hpp"
#include "rules/profile_data.hpp"

namespace linewright {
namespace {

/// Where a group begins to be seen: its first word or symbol, else its first line.
std::optional<diagram::Point> place_of(const diagram::Group& group) {
  std::optional<diagram::Point> line;
  for (const diagram::Item& item : group.items) {
    if (const auto* text = std::get_if<diagram::Text>(&item)) return text->at;
    if (const auto* symbol = std::get_if<diagram::SymbolUse>(&item)) return symbol->at;
    const auto* polyline = std::get_if<diagram::Polyline>(&item);
    if (polyline != nullptr && !polyline->points.empty() && !line) line = polyline->points.front();
  }
  return line;
}

std::vector<documents::DrawnGroup> drawn_groups(const diagram::Document& document) {
  std::vector<documents::DrawnGroup> groups;
  for (std::size_t s = 0; s < document.sheets.size(); ++s) {
    const diagram::Paper paper = diagram::paper_of(document.sheets[s]);
    for (const diagram::Group& group : document.sheets[s].groups) {
      documents::DrawnGroup drawn{.sheet = static_cast<int>(s) + 1,
                                  .zone = {},
                                  .kind = group.kind,
                                  .id = group.id,
                                  .text = {}};
      for (const diagram::Item& item : group.items)
        if (const auto* text = std::get_if<diagram::Text>(&item))
          drawn.text += (drawn.text.empty() ? "" : " ") + text->text;
      if (const auto at = place_of(group)) drawn.zone = diagram::zone_of(paper, *at);
      groups.push_back(std::move(drawn));
    }
  }
  return groups;
}

}  // namespace

Result<ChecklistFound> checklist_of_site(const site::Site& as_given, const Report& report,
                                         const DrawOptions& options, ChecklistFormat format) {
  site::Site site = as_given;
  site.title.paper = paper_for(as_given.title.paper, options);
  const Result<check::Profile> profile = rules::profile_for(site, options.profile);
  if (!profile) return fail(profile.error().message);
  const check::AnalysedSite analysed = check::analyse(site, *profile);
  std::vector<std::string> notices;
  const diagram::Document document = document_of(site, report, analysed, options, notices);
  const std::vector<documents::ChecklistAnswer> answers = documents::checklist(
      {site, analysed.network, analysed.states, report}, drawn_groups(document));
  ChecklistFound found;
  found.text = format == ChecklistFormat::json
                   ? documents::checklist_json(answers)
                   : documents::checklist_text(answers, site.title.site_name);
  found.complete = std::ranges::none_of(answers, [](const documents::ChecklistAnswer& answer) {
    return answer.standing == documents::Standing::missing;
  });
  return found;
}

}  // namespace linewright

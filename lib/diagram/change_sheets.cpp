#include "diagram/change_sheets.hpp"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "diagram/clouds.hpp"
#include "diagram/paper.hpp"
#include "diagram/word_table.hpp"

namespace linewright::diagram {
namespace {

/// Sheets with clouds, and for each change where it is to be found.
struct Marked {
  std::vector<Sheet> sheets;
  std::vector<std::vector<std::string>> places;
};

Marked marked_sheets(const Metrics& metrics, const Document& drawing,
                     const std::vector<ChangeMark>& changes) {
  Marked marked{.sheets = {}, .places = std::vector<std::vector<std::string>>(changes.size())};
  for (const Sheet& drawn : drawing.sheets) {
    Sheet sheet = drawn;
    Sketch sketch{.metrics = metrics, .sheet = sheet, .taken = {}, .symbols = {}};
    const std::vector<Cloud> clouds = clouds_on(sketch, changes);
    if (clouds.empty()) continue;
    draw_clouds(changes, clouds, sketch);
    std::erase_if(sheet.groups, [](const Group& group) { return group.kind == "title-block"; });
    for (const Cloud& cloud : clouds) {
      const Point middle{cloud.body.x + cloud.body.width / 2.0,
                         cloud.body.y + cloud.body.height / 2.0};
      const std::string place =
          fmt::format("sheet {}, {}", marked.sheets.size() + 1, zone_of(paper_of(sheet), middle));
      for (const std::size_t number : cloud.numbers) {
        std::vector<std::string>& places = marked.places[number - 1];
        if (std::ranges::count(places, place) == 0) places.push_back(place);
      }
    }
    marked.sheets.push_back(std::move(sheet));
  }
  return marked;
}

std::vector<Sheet> table_of(const site::Site& site, const Metrics& metrics,
                            const std::vector<ChangeMark>& changes, const Marked& marked,
                            const std::string& remark) {
  TableForm form{.sheet_name = "changes",
                 .title = "Changes",
                 .heads = {"No", "Where", "Change"},
                 .widths = {10.0, column_for(metrics, "sheet 00, A00; ", 45.0), 0.0}};
  form.widths[2] = table_width(site) - form.widths[0] - form.widths[1];
  WordTable table(site, metrics, form);
  for (std::size_t i = 0; i < changes.size(); ++i) {
    const std::string where =
        marked.places[i].empty() ? "–" : fmt::format("{}", fmt::join(marked.places[i], "; "));
    table.add({fmt::format("{}", i + 1), where, changes[i].words},
              {.kind = "change-row",
               .id = fmt::format("row of change {}", i + 1),
               .title = fmt::format("{}: {}", i + 1, changes[i].words),
               .description = where,
               .data = {},
               .items = {}});
  }
  table.add_remark(remark);
  return std::move(table).sheets();
}

}  // namespace

Document change_sheets(const site::Site& site, const Metrics& metrics, const Document& drawing,
                       const std::vector<ChangeMark>& changes, const std::string& rules,
                       const std::string& remark) {
  Marked marked = marked_sheets(metrics, drawing, changes);
  Document result = drawing;
  result.title = site.title.site_name + ", changes";
  result.subject = "What changed on the single-line diagram";
  std::vector<Sheet> tables = table_of(site, metrics, changes, marked, remark);
  result.sheets = std::move(marked.sheets);
  std::ranges::move(tables, std::back_inserter(result.sheets));
  for (std::size_t i = 0; i < result.sheets.size(); ++i) {
    Sheet& sheet = result.sheets[i];
    const bool is_table = sheet.name.starts_with("changes-");
    add_title_block(site,
                    {.title = is_table ? std::string("Changes") : "Changes: " + sheet.title,
                     .supplement = site.title.site_name,
                     .remark = "not for approval",
                     .document_type = "Changes",
                     .rules = rules,
                     .number = static_cast<int>(i) + 1,
                     .count = static_cast<int>(result.sheets.size())},
                    metrics, sheet);
  }
  return result;
}

}  // namespace linewright::diagram

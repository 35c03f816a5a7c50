#include "diagram/overview.hpp"

#include "diagram/draw.hpp"
#include "diagram/paper.hpp"
#include "diagram/side_notes.hpp"

namespace linewright::diagram {
namespace {

Area tall_area(const site::Site& site) {
  return {.left = 24.0,
          .right = 312.0,
          .top = 14.0,
          .bottom = 284.0,
          .notch_left = 227.0,
          .notch_top = title_top(site) - 3.0};
}

}  // namespace

Document overview(const site::Site& site, const Metrics& metrics, const OverviewNotes& notes) {
  Document document{.title = site.title.site_name + ", single-line diagram",
                    .author = site.title.owner,
                    .language = site.title.language,
                    .date = site.title.date};
  Plan plan = contract(site);
  rank_plan(site, plan);
  const Measures measures = measure(site, metrics, plan);
  const auto placed = place(site, metrics, plan, measures, tall_area(site));
  Sheet sheet{.name = "overview", .title = "Single-line diagram"};
  Sketch sketch{.metrics = metrics, .sheet = sheet, .taken = {}, .symbols = {}};
  draw_frame(sketch);
  if (placed) draw({site, plan, measures, *placed}, sketch);
  draw_side_notes(site, notes, {{{318.0, 15.0, 87.0, title_top(site) - 18.0}}}, sketch);
  draw_title_block(
      site,
      {.title = "Single-line diagram", .document_type = "Overview diagram", .rules = notes.rules},
      sketch);
  document.sheets.push_back(std::move(sheet));
  return document;
}

}  // namespace linewright::diagram

#include <string>
#include <utility>

#include <fmt/core.h>

#include "analysis.hpp"
#include "check/analysed_site.hpp"
#include "check/later.hpp"
#include "diagram/overview.hpp"
#include "diagram/picture.hpp"
#include "documents/permit_lines.hpp"
#include "documents/state_table.hpp"
#include "draw_document.hpp"
#include "draw_parts.hpp"
#include "draw_states.hpp"
#include "drawing/metrics.hpp"
#include "linewright.hpp"
#include "rules/profile_data.hpp"

namespace linewright {
namespace {

std::vector<diagram::LineBlock> blocks_for(const documents::PermitFacts& facts) {
  std::vector<diagram::LineBlock> blocks;
  for (const documents::PermitLine& line : documents::permit_lines(facts)) {
    const std::string heading = documents::heading(line.subject);
    if (blocks.empty() || blocks.back().heading != heading)
      blocks.push_back({.heading = heading,
                        .lines = {},
                        .blanks = line.subject == documents::PermitSubject::on_site});
    blocks.back().lines.push_back(line.words);
  }
  return blocks;
}

diagram::OverviewNotes notes_for(const site::Site& site, const Report& report,
                                 const check::AnalysedSite& analysed) {
  const documents::StateTable table =
      documents::state_table(site, analysed.network, analysed.states);
  diagram::OverviewNotes notes{.devices = table.devices};
  notes.particulars = blocks_for({site, analysed.network, analysed.states, report});
  for (const documents::StateRow& row : table.rows)
    notes.states.push_back({row.state, row.positions, row.alive, row.bond});
  for (const Finding& finding : report.findings)
    if (finding.severity == Severity::danger)
      notes.dangers.push_back(fmt::format("{} [{}]", finding.message, finding.rule));
  notes.rules = std::string(analysed.profile.text("rules title"));
  return notes;
}

/// Every hazard that can be reached from the named states.
std::vector<network::Refutation> hazards_of(const check::AnalysedSite& analysed) {
  std::vector<network::Refutation> hazards;
  for (const network::HazardVerdict& verdict : check::certificate_of(analysed).verdicts)
    hazards.insert(hazards.end(), verdict.refutations.begin(), verdict.refutations.end());
  return hazards;
}

Result<Drawn> draw_on_its_paper(const site::Site& site, const Report& report,
                                const check::AnalysedSite& analysed, const DrawOptions& options) {
  std::vector<std::string> notices;
  diagram::Document document = document_of(site, report, analysed, options, notices);
  if (document.date.empty()) document.date = options.date;
  if (options.on_step) options.on_step(Step::laid_out);
  Result<Drawn> files = draw_document(document, options);
  if (files) files->notices.insert(files->notices.begin(), notices.begin(), notices.end());
  return files;
}

Result<Drawn> draw(const site::Site& site, const Report& report,
                   const check::AnalysedSite& analysed, const DrawOptions& options) {
  const site::PaperFormat paper = paper_for(site.title.paper, options);
  if (paper == site.title.paper) return draw_on_its_paper(site, report, analysed, options);
  site::Site on_paper = site;
  on_paper.title.paper = paper;
  return draw_on_its_paper(on_paper, report, analysed, options);
}

}  // namespace

site::PaperFormat paper_for(const site::PaperFormat& own, const DrawOptions& options) {
  site::PaperFormat paper = own;
  if (options.paper && *options.paper != own.size)
    paper = {*options.paper, site::usual_turn(*options.paper)};
  paper.turn = options.turn.value_or(paper.turn);
  return paper;
}

// The overview says how many sheets there are in all, so the others are laid out first.
diagram::Document document_of(const site::Site& site, const Report& report,
                              const check::AnalysedSite& analysed, const DrawOptions& options,
                              std::vector<std::string>& notices) {
  const diagram::Metrics metrics =
      drawing::metrics(options.material.symbols, options.material.fonts);
  diagram::OverviewNotes notes = notes_for(site, report, analysed);
  diagram::PictureSheets pictures;
  if (options.states == StatePictures::drawn)
    pictures = diagram::picture_sheets(site, metrics, pictures_of(analysed, hazards_of(analysed)));
  notices = pictures.notices;
  notes.further_sheets = static_cast<int>(pictures.sheets.size());
  diagram::Document document = diagram::overview(site, metrics, notes);
  diagram::number_sheets(site, metrics, notes.rules, static_cast<int>(document.sheets.size()) + 1,
                         pictures.sheets);
  for (diagram::Sheet& sheet : pictures.sheets)
    document.sheets.push_back(std::move(sheet));
  return document;
}

Result<Drawn> draw_site(const site::Site& site, const Report& report, const DrawOptions& options) {
  const Result<check::Profile> profile = rules::profile_for(site, options.profile);
  if (!profile) return fail(profile.error().message);
  return draw(site, report, check::analyse(site, *profile), options);
}

Result<Drawn> draw_site(const Checked& checked, const DrawOptions& options) {
  if (!checked.site) return fail("nothing to draw: the file has mistakes");
  if (!checked.analysis || checked.analysis->wished != options.profile)
    return draw_site(*checked.site, checked.report, options);
  return draw(*checked.site, checked.report, checked.analysis->analysed, options);
}

}  // namespace linewright

#include <utility>

#include <fmt/core.h>

#include "diagram/flags.hpp"
#include "draw_document.hpp"
#include "draw_parts.hpp"
#include "drawing/metrics.hpp"
#include "findings/text.hpp"
#include "linewright.hpp"
#include "rules/profile_data.hpp"

namespace linewright {
namespace {

std::vector<diagram::Flag> flags_for(const Report& report) {
  std::vector<diagram::Flag> flags;
  for (const Finding& finding : report.findings)
    flags.push_back({.severity = std::string(findings::name_of(finding.severity)),
                     .element = finding.element,
                     .state = finding.state,
                     .finding = finding.message,
                     .rule = finding.rule,
                     .mend = finding.remedy});
  return flags;
}

std::string remark_for(const Report& report) {
  std::string remark = report.findings.empty() ? "No findings. " : "";
  if (!report.open.empty())
    remark += fmt::format("Open points, not flagged: {}. ", report.open.size());
  if (!report.questions.empty())
    remark += fmt::format("Questions for the site, not flagged: {}. ", report.questions.size());
  return remark + "The check lists all of them. Not every danger can be found by a check.";
}

}  // namespace

Result<Drawn> flags_of_site(const site::Site& as_given, const Report& report,
                            const DrawOptions& options) {
  site::Site site = as_given;
  site.title.paper = paper_for(as_given.title.paper, options);
  const Result<check::Profile> profile = rules::profile_for(site, options.profile);
  if (!profile) return fail(profile.error().message);
  const check::AnalysedSite analysed = check::analyse(site, *profile);
  std::vector<std::string> notices;
  const diagram::Document clean = document_of(site, report, analysed, options, notices);
  diagram::Document flagged = diagram::flag_sheets(
      site, drawing::metrics(options.material.symbols, options.material.fonts), clean,
      flags_for(report), std::string(profile->text("rules title")), remark_for(report));
  if (flagged.date.empty()) flagged.date = options.date;
  Result<Drawn> drawn = draw_document(flagged, options);
  if (drawn) drawn->notices.insert(drawn->notices.begin(), notices.begin(), notices.end());
  return drawn;
}

}  // namespace linewright

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

constexpr std::size_t most_open = 200;  // rows; with more nobody reads the table

void add_open(const Report& report, std::vector<diagram::Flag>& flags) {
  const std::size_t most = flags.size() + most_open;
  for (const OpenPoint& point : report.open)
    if (flags.size() < most)
      flags.push_back(
          {.numbered = false,
           .severity = point.severity == Severity::danger ? "open, may be danger" : "open",
           .element = point.element,
           .state = point.state,
           .finding = point.message,
           .rule = point.rule,
           .mend = point.missing});
  for (const Question& question : report.questions)
    if (flags.size() < most)
      flags.push_back({.numbered = false,
                       .severity = "to confirm",
                       .element = question.element,
                       .state = question.state,
                       .finding = question.question,
                       .rule = question.rule,
                       .mend = question.expected});
}

std::vector<diagram::Flag> flags_for(const Report& report) {
  std::vector<diagram::Flag> flags;
  for (const Finding& finding : report.findings)
    flags.push_back({.severity = std::string(findings::name_of(finding.severity)),
                     .element = finding.element,
                     .state = finding.state,
                     .finding = finding.message,
                     .rule = finding.rule,
                     .mend = finding.remedy});
  add_open(report, flags);
  return flags;
}

std::string remark_for(const Report& report) {
  std::string remark = report.findings.empty() ? "No findings. " : "";
  const std::size_t open = report.open.size() + report.questions.size();
  if (open > 0) remark += "What is open or to be confirmed on site has no number. ";
  if (open > most_open)
    remark += fmt::format("{} more of it: the check lists all. ", open - most_open);
  return remark + "Not every danger can be found by a check.";
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

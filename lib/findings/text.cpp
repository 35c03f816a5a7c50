#include "findings/text.hpp"

#include <algorithm>
#include <optional>

#include <fmt/core.h>

#include "findings/source_lines.hpp"
#include "findings/utf8.hpp"

namespace linewright::findings {
namespace {

/// The escape that begins each look, without ESC and bracket.
struct Look {
  std::string_view code;
};
constexpr Look bold{"1"};
constexpr Look red{"1;31"};
constexpr Look yellow{"1;33"};
constexpr Look cyan{"1;36"};
constexpr Look green{"1;32"};
constexpr Look blue{"1;34"};

Look look_of(Severity severity) {
  switch (severity) {
    case Severity::danger:
      return red;
    case Severity::breach:
      return yellow;
    case Severity::advice:
      break;
  }
  return cyan;
}

/// Everything that the lines of one report share.
struct Page {
  std::string file;  ///< fit to be shown
  SourceLines lines;
  TextStyle style;
  std::string text;

  std::string in(Look look, std::string_view words) const {
    if (style.color == Color::off) return std::string(words);
    return fmt::format("\x1b[{}m{}\x1b[0m", look.code, words);
  }

  std::string where(const Place& place) const {
    if (!place.known()) return file;
    return fmt::format("{}:{}:{}", file, place.line, place.column);
  }
};

Page page_of(std::string_view file, std::string_view source, const TextStyle& style) {
  return {shown_safely(file), SourceLines(source), style, {}};
}

/// The line of the file with its mark, in the margin that compilers use.
void add_source(Page& page, const Place& place, Look look) {
  if (!place.known() || !page.lines.has(place.line)) return;
  const Excerpt shown = excerpt(page.lines.line(place.line), place);
  page.text += fmt::format("{:>5} | {}\n", place.line, shown.line);
  page.text += fmt::format("{:>5} | {}\n", "", page.in(look, shown.mark));
}

struct Headline {
  std::string_view kind;
  Look look;
  std::string_view message;
  std::string_view rule;  ///< empty for mistakes
};

void add_headline(Page& page, const Place& place, const Headline& line) {
  const std::string rule = line.rule.empty() ? "" : fmt::format(" [{}]", line.rule);
  page.text += fmt::format("{}: {}: {}{}\n", page.in(bold, page.where(place)),
                           page.in(line.look, line.kind), shown_safely(line.message), rule);
}

void add_labelled(Page& page, std::string_view label, std::string_view words) {
  if (!words.empty()) page.text += fmt::format("  {:<8}{}\n", label, shown_safely(words));
}

void add_notes(Page& page, const std::vector<Note>& notes) {
  for (const Note& note : notes) {
    page.text += fmt::format("  {}: {}\n", page.where(note.where), shown_safely(note.text));
  }
}

/// Element and state, as far as the message doesn't name them already.
std::string unnamed_subject(std::string_view message, std::string_view element,
                            std::string_view state) {
  std::string subject;
  if (!element.empty() && message.find(element) == std::string_view::npos) {
    subject = fmt::format("'{}'", element);
  }
  if (!state.empty() && message.find(state) == std::string_view::npos) {
    const bool several = state.find(", ") != std::string_view::npos;
    subject += subject.empty() ? "" : " ";
    subject += several ? fmt::format("in states {}", state) : fmt::format("in state '{}'", state);
  }
  return subject;
}

std::string joined(const std::vector<std::string>& parts) {
  std::string text;
  for (const std::string& part : parts) {
    if (!text.empty()) text += "; ";
    text += part;
  }
  return text;
}

void add_finding(Page& page, const Finding& finding) {
  const Look look = look_of(finding.severity);
  add_headline(page, finding.where,
               {name_of(finding.severity), look, finding.message, finding.rule});
  if (page.style.detail == Detail::brief) return;
  add_source(page, finding.where, look);
  add_labelled(page, "at:", unnamed_subject(finding.message, finding.element, finding.state));
  add_notes(page, finding.notes);
  add_labelled(page, "why:", finding.why);
  add_labelled(page, "mend:", finding.remedy);
  add_labelled(page, "clause:", joined(finding.clauses));
  page.text += "\n";
}

/// What cannot be ruled out to be a danger is as loud as a danger, also in brief reports.
void add_open_point(Page& page, const OpenPoint& point) {
  const bool grave = point.severity == Severity::danger;
  if (!grave && page.style.detail == Detail::brief) return;
  const std::size_t before = page.text.size();
  add_headline(
      page, point.where,
      {grave ? "open, may be danger" : "open", grave ? red : blue, point.message, point.rule});
  if (page.style.detail == Detail::brief) {
    // Points that differ only in what they need look alike here: one line tells them.
    const std::string line = page.text.substr(before);
    if (page.text.find(line) < before) page.text.resize(before);
    return;
  }
  add_labelled(page, "at:", unnamed_subject(point.message, point.element, point.state));
  add_labelled(page, "needs:", point.missing);
}

std::string counted(std::size_t count, std::string_view one, std::string_view many) {
  return fmt::format("{} {}", count, count == 1 ? one : many);
}

std::size_t count_of(const Report& report, Severity severity) {
  return static_cast<std::size_t>(
      std::ranges::count(report.findings, severity, &Finding::severity));
}

std::ptrdiff_t grave_open_points(const Report& report) {
  return std::ranges::count(report.open, Severity::danger, &OpenPoint::severity);
}

/// The line that sums up. Open points are named before anything could read as a clean pass.
void add_sum(Page& page, const Report& report) {
  const std::size_t dangers = count_of(report, Severity::danger);
  const std::size_t breaches = count_of(report, Severity::breach);
  const Look look = dangers > 0 || grave_open_points(report) > 0 ? red
                    : breaches > 0                               ? yellow
                    : report.open.empty()                        ? green
                                                                 : blue;
  const RuleCounts& rules = report.counts;
  std::string counts =
      fmt::format("{}, {}, {} advice, {} open", counted(dangers, "danger", "dangers"),
                  counted(breaches, "breach", "breaches"), count_of(report, Severity::advice),
                  report.open.size());
  if (const auto grave = grave_open_points(report); grave > 0)
    counts += fmt::format(" ({} may be danger)", grave);
  page.text += fmt::format(
      "{}: {}; {}, profile {}: {} hold, {} broken, {} open, {} not relevant{}\n", page.file,
      page.in(look, counts), counted(static_cast<std::size_t>(rules.rules), "rule", "rules"),
      shown_safely(report.profile), rules.hold, rules.broken, rules.open, rules.not_relevant,
      rules.to_confirm > 0 ? fmt::format(", {} to confirm", rules.to_confirm) : "");
}

/// What else can be asked for: the questions for the site, and edits that mend.
void add_further(Page& page, const Report& report) {
  if (!report.questions.empty())
    page.text += fmt::format("{} to confirm on site: linewright check --questions {}\n",
                             counted(report.questions.size(), "thing", "things"), page.file);
  const auto with_edit = static_cast<std::size_t>(std::ranges::count_if(
      report.findings, [](const Finding& finding) { return !finding.edits.empty(); }));
  if (with_edit > 0)
    page.text += fmt::format("{} with an edit that mends: linewright check --suggest {}\n",
                             counted(with_edit, "finding", "findings"), page.file);
}

/// "'-F1' in state 'island'", or words for the site as a whole.
std::string subject_of(const Question& question) {
  const std::string subject = unnamed_subject({}, question.element, question.state);
  return subject.empty() ? "the site as a whole" : subject;
}

void add_caution(Page& page) {
  page.text += fmt::format("{}\n", caution);
}

}  // namespace

std::string_view name_of(Severity severity) {
  switch (severity) {
    case Severity::danger:
      return "danger";
    case Severity::breach:
      return "breach";
    case Severity::advice:
      break;
  }
  return "advice";
}

std::string report_text(const Report& report, std::string_view source, const TextStyle& style,
                        std::string_view positions) {
  Page page = page_of(report.file, source, style);
  for (const Finding& finding : report.findings) {
    add_finding(page, finding);
  }
  for (const OpenPoint& point : report.open) {
    add_open_point(page, point);
  }
  if (style.detail == Detail::full) {
    if (!report.open.empty()) page.text += "\n";
    if (!report.not_checked.empty())
      page.text += fmt::format("not checked: {}\n", shown_safely(joined(report.not_checked)));
  }
  add_sum(page, report);
  if (!positions.empty())
    page.text += fmt::format("every position: {}: linewright prove {}\n", positions, page.file);
  add_further(page, report);
  add_caution(page);
  return page.text;
}

std::string questions_text(const Report& report, const TextStyle& style) {
  Page page = page_of(report.file, {}, style);
  std::vector<const Question*> left;
  for (const Question& question : report.questions)
    left.push_back(&question);
  while (!left.empty()) {
    const std::string subject = subject_of(*left.front());
    page.text += page.in(bold, shown_safely(subject)) + "\n";
    std::erase_if(left, [&](const Question* question) {
      if (subject_of(*question) != subject) return false;
      page.text += fmt::format("  {} [{}]\n", shown_safely(question->question), question->rule);
      page.text += fmt::format("    expected: {}\n", shown_safely(question->expected));
      return true;
    });
  }
  page.text += fmt::format("{}: {} to confirm on site\n", page.file,
                           counted(report.questions.size(), "thing", "things"));
  add_caution(page);
  return page.text;
}

std::string mistakes_text(std::string_view file, std::span<const Mistake> mistakes,
                          std::string_view source, const TextStyle& style) {
  Page page = page_of(file, source, style);
  for (const Mistake& mistake : mistakes) {
    add_headline(page, mistake.where, {"error", red, mistake.message, {}});
    if (style.detail == Detail::brief) continue;
    add_source(page, mistake.where, red);
    add_notes(page, mistake.notes);
    add_labelled(page, "mend:", mistake.mend);
  }
  page.text += fmt::format("{}: {}; nothing was checked\n", page.file,
                           page.in(red, counted(mistakes.size(), "mistake", "mistakes")));
  add_caution(page);
  return page.text;
}

}  // namespace linewright::findings

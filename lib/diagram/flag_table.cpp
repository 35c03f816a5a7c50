// The table of findings: a row a finding.
#include <algorithm>

#include <fmt/core.h>

#include "diagram/flag_parts.hpp"
#include "diagram/word_table.hpp"

namespace linewright::diagram {
namespace {

// Numbers and names take what they need, as far as they leave room for words, which share the rest.
TableForm form_for(const site::Site& site, const Metrics& metrics, const std::vector<Flag>& flags) {
  const double all = table_width(site);
  TableForm form{.sheet_name = "findings",
                 .title = "Findings",
                 .heads = {"No", "Severity", "At", "In state", "Finding", "What to do", "Rule"},
                 .widths = {8.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0}};
  const auto fit = [&](std::size_t column, const std::string& words, double most) {
    form.widths[column] = std::max(form.widths[column], column_for(metrics, words, most));
  };
  for (std::size_t c = 1; c < 4; ++c)
    fit(c, form.heads[c], 40.0);
  for (const Flag& flag : flags) {
    fit(1, flag.severity, 20.0);
    fit(2, flag.element, 25.0);
    fit(3, flag.state, all / 10.0);
  }
  const double rest = all - form.widths[0] - form.widths[1] - form.widths[2] - form.widths[3];
  form.widths[4] = rest * 0.40;
  form.widths[5] = rest * 0.35;
  form.widths[6] = rest * 0.25;
  return form;
}

std::vector<std::string> cells_of(const Flag& flag, std::size_t number) {
  return {flag.numbered ? fmt::format("{}", number) : "–",
          flag.severity,
          flag.element.empty() ? "–" : flag.element,
          flag.state.empty() ? "–" : flag.state,
          flag.finding,
          flag.mend,
          flag.rule};
}

Group group_of(const Flag& flag, std::size_t number) {
  Group group{.kind = flag.numbered ? "finding" : "open",
              .id = flag.numbered ? fmt::format("finding {}", number) : std::string(),
              .title = flag.numbered ? fmt::format("{}: {}", number, flag.finding) : flag.finding,
              .description = flag.mend,
              .data = {},
              .items = {}};
  group.data = {{"element", flag.element}, {"rule", flag.rule}, {"severity", flag.severity}};
  return group;
}

}  // namespace

std::vector<Sheet> flag_tables(const site::Site& site, const Metrics& metrics,
                               const std::vector<Flag>& flags, const std::string& remark) {
  const TableForm form = form_for(site, metrics, flags);
  WordTable table(site, metrics, form);
  for (std::size_t i = 0; i < flags.size(); ++i)
    table.add(cells_of(flags[i], i + 1), group_of(flags[i], i + 1));
  table.add_remark(remark);
  return std::move(table).sheets();
}

}  // namespace linewright::diagram

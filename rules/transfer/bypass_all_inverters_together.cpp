// Speaks of bypass states in which one inverter is taken off the bus and another stays on it. Where
// all of them stay, bypass-isolates-the-inverter-output speaks.
#include <algorithm>

#include <fmt/core.h>

#include "check/meeting.hpp"
#include "check/naming.hpp"
#include "check/rule.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::StateView;

/// Those of `list` that share a bus with another inverter of the state's outputs.
std::vector<std::size_t> sharing(const AnalysedSite& site, const std::vector<std::size_t>& list,
                                 const std::vector<std::size_t>& others) {
  std::vector<std::size_t> found;
  for (const std::size_t inverter : list)
    if (std::ranges::any_of(others, [&](std::size_t other) {
          return other != inverter && check::share_a_bus(site, inverter, other);
        }))
      found.push_back(inverter);
  return found;
}

Verdict judge(const AnalysedSite& site, const StateView& state) {
  const check::BypassedOutputs outputs = check::bypassed_outputs(site, state);
  const auto left_on = sharing(site, outputs.joined, outputs.separated);
  if (!left_on.empty()) {
    Verdict verdict =
        broken(site.about(left_on.front(), &state),
               fmt::format("{} stays on the bypassed bus, must leave it with all",
                           check::quoted(site, left_on)),
               "take every inverter output of this bus through the same bypass switch");
    for (const std::size_t off : sharing(site, outputs.separated, left_on))
      verdict.notes.push_back(
          {site.element(off).where, fmt::format("'{}' is taken off", site.name(off))});
    return verdict;
  }
  if (const auto unsure = sharing(site, outputs.undecided, outputs.separated); !unsure.empty())
    return open(site.about(unsure.front(), &state),
                fmt::format("whether {} leaves the bypassed bus", check::quoted(site, unsure)),
                fmt::format("the position of {} in this state",
                            check::quoted(site, check::undecided_elements(site, state))));
  const auto together = sharing(site, outputs.separated, outputs.separated);
  return together.empty() ? not_relevant(site.about(state)) : holds(site.about(state));
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const StateView& state : site.states)
    if (state.state->kind == site::StateKind::bypass) verdicts.push_back(judge(site, state));
  if (verdicts.empty()) verdicts.push_back(not_relevant({}));
  return verdicts;
}

}  // namespace

extern const check::Rule bypass_all_inverters_together{
    .id = "transfer/bypass-all-inverters-together",
    .severity = Severity::danger,
    .must_hold = "Where several inverters share a bus, bypass takes all their outputs off it.",
    .why = "The inverter that was left on meets the bypass on the bus, out of step.",
    .clauses = {"IEC 60364-5-55 551.6, by its intent"},
    .confirmation = check::Confirmation::partly,
    .profile_keys = {},
    .example = R"(# The output of -T2 lands behind the bypass switch, that of -T1 ahead of it.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
inverters:
  -T1: {kind: hybrid, backup side: yes, power: 5 kVA, neutral in island: opened, bond: closes in island}
  -T2: {kind: hybrid, backup side: yes, power: 5 kVA, neutral in island: opened, bond: none}
synchronised: [[-T1, -T2]]
panel:
  id: +A2
  interior: explicit
  busbars: {-WB1: 63 A, -WB2: 63 A, -WB3: 63 A}
  devices:
    -Q2: {device: changeover I-0-II 63 A 2P by hand, break before make: yes}
  chains:
    - [supply, -WB1]
    - [-WB1, -F21 C32 2P, -T1:ac]
    - [-WB1, -F22 C32 2P, -T2:ac]
    - [-T1:backup, -F23 C32 2P, -WB2]
    - [-T2:backup, -F24 C32 2P, -WB3]
    - [-WB2, -Q2:I]
    - [-WB1, -Q2:II]
    - [-Q2, -WB3]
states:
  grid: {-Q2: I}
  island: {-Q2: I, running: [-T1, -T2]}
  bypass: {-Q2: II, running: [supply]}
)",
    .check = check_site,
};

}  // namespace linewright::rules

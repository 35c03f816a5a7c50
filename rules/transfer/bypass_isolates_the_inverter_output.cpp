// Speaks of bypass states in which the lines of every inverter output on the bus stay joined to
// what feeds the bypass. Where only some of several outputs stay joined,
// bypass-all-inverters-together speaks; a neutral that stays joined is left to the rules on bonds
// and parallel neutrals.
#include <algorithm>

#include <fmt/core.h>

#include "check/meeting.hpp"
#include "check/naming.hpp"
#include "check/rule.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::StateView;

bool some_taken_off_that_bus(const AnalysedSite& site, const check::BypassedOutputs& outputs) {
  return std::ranges::any_of(outputs.separated, [&](std::size_t off) {
    return std::ranges::any_of(outputs.joined,
                               [&](std::size_t on) { return check::share_a_bus(site, on, off); });
  });
}

Verdict judge(const AnalysedSite& site, const StateView& state) {
  const check::BypassedOutputs outputs = check::bypassed_outputs(site, state);
  if (!outputs.joined.empty()) {
    if (some_taken_off_that_bus(site, outputs)) return not_relevant(site.about(state));
    return broken(site.about(outputs.joined.front(), &state),
                  fmt::format("output of {} stays joined to the bypass, must be separated",
                              check::quoted(site, outputs.joined)),
                  "use one changeover that opens the inverters before it closes the bypass");
  }
  if (!outputs.undecided.empty())
    return open(site.about(outputs.undecided.front(), &state),
                fmt::format("whether the output of {} is separated from the bypass",
                            check::quoted(site, outputs.undecided)),
                fmt::format("the position of {} in this state",
                            check::quoted(site, check::undecided_elements(site, state))));
  return outputs.separated.empty() ? not_relevant(site.about(state)) : holds(site.about(state));
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const StateView& state : site.states)
    if (state.state->kind == site::StateKind::bypass) verdicts.push_back(judge(site, state));
  if (verdicts.empty()) verdicts.push_back(not_relevant({}));
  return verdicts;
}

}  // namespace

extern const check::Rule bypass_isolates_the_inverter_output{
    .id = "transfer/bypass-isolates-the-inverter-output",
    .severity = Severity::danger,
    .must_hold =
        "In bypass the lines of the inverter's output are separated from what feeds the "
        "loads.",
    .why =
        "The supply's voltage on the output of an inverter destroys it, and may burn it, as "
        "soon as it runs.",
    .clauses = {"IEC 60364-5-55 551.6.1", "IEC 60947-6-1:2026 Annex C"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {},
    .example = R"(# The bypass is a switch across the inverter, whose output nothing opens.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
inverters:
  -T1: {kind: hybrid, backup side: yes, power: 5 kVA, neutral in island: opened, bond: closes in island}
panel:
  id: +A2
  interior: explicit
  busbars: {-WB1: 63 A, -WB2: 63 A}
  chains:
    - [supply, -WB1]
    - [-WB1, -F21 C32 2P, -T1:ac]
    - [-T1:backup, -F22 C32 2P, -WB2]
    - [-WB1, -Q2 switch-disconnector 63 A 2P normally open, -WB2]
states:
  grid: {}
  island: {running: [-T1]}
  bypass: {-Q2: closed, running: [supply]}
)",
    .check = check_site,
};

}  // namespace linewright::rules

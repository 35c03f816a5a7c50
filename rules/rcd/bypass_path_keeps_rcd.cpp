// Speaks in states of the kind bypass when an RCD that guards a circuit in another state is led
// around. The same fault in any other state is left to between-source-and-load-in-every-state.

#include <fmt/core.h>

#include "check/rcd_cover.hpp"
#include "check/rule.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using check::CircuitCover;
using check::SkippedRcd;
using check::Standing;

bool is_bypass(const network::StateView& state) {
  return state.state->kind == site::StateKind::bypass;
}

Verdict judge(const AnalysedSite& site, const CircuitCover& cover) {
  const Subject subject = site.about(check::circuit_device(*cover.loop), cover.state);
  if (cover.standing == Standing::guarded) return holds(subject);
  if (cover.standing != Standing::undecided || !cover.guarded_elsewhere)
    return not_relevant(subject);
  return open(subject,
              fmt::format("whether '{}' keeps its RCD in bypass",
                          check::circuit_name(site, cover.loop->load)),
              cover.missing);
}

Verdict judge(const AnalysedSite& site, const SkippedRcd& skipped) {
  Verdict verdict =
      broken(site.about(skipped.rcd, skipped.state),
             fmt::format("bypass enters behind '{}': {} without RCD, must keep one",
                         site.name(skipped.rcd), check::circuits_in_words(site, skipped.loads)),
             "bring the bypass in ahead of the RCD, or fit RCDs in the backup board");
  verdict.notes = check::circuit_notes(site, skipped.loads,
                                       fmt::format("loses '{}' in bypass", site.name(skipped.rcd)));
  return verdict;
}

std::vector<Verdict> check(const AnalysedSite& site) {
  const std::vector<CircuitCover> covers = check::circuit_covers(site);
  std::vector<Verdict> verdicts;
  for (const SkippedRcd& skipped : check::skipped_rcds(covers))
    if (is_bypass(*skipped.state)) verdicts.push_back(judge(site, skipped));
  for (const CircuitCover& cover : covers)
    if (is_bypass(*cover.state) && cover.standing != Standing::skipped)
      verdicts.push_back(judge(site, cover));
  return verdicts;
}

}  // namespace

extern const check::Rule bypass_path_keeps_rcd{
    .id = "rcd/bypass-path-keeps-rcd",
    .severity = Severity::danger,
    .must_hold = "The maintenance bypass enters ahead of the RCDs, so that circuits keep theirs.",
    .why =
        "With the RCD in the inverter's output the bypass leads around it: on the very day of "
        "maintenance the circuits are unprotected.",
    .clauses = {"IEC 60364-5-55 551.4.1", "IEC 60364-4-41 411"},
    .confirmation = check::Confirmation::partly,
    .profile_keys = {"rcd limit", "rcd sockets", "rcd sockets up to", "rcd outdoors",
                     "rcd lighting in dwellings", "rcd bathroom", "rcd ev", "rcd whole dwelling"},
    .example = R"(site: {name: Bypass around the RCD}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
inverters:
  -T1: {kind: hybrid, backup side: yes, power: 5 kVA, neutral in island: opened, bond: closes in island, bond rest: open}
panel:
  id: +A2
  interior: one source with bypass
  grid: [A1, -F10 C32 2P two-way, -W2 3×10 mm² 5 m]
  inverters:
    -T1: {in: [-F21 C32 2P two-way, -W3 3×6 mm² 2 m], out: [-W4 3×6 mm² 2 m, -F22 RCD 40 A 2P 30 mA type A two-way]}
  changeover: 40 A 2P by hand isolating lockable
  bypass: 40 A 2P by hand isolating lockable
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m]}
  +A3:
    feed: [A2, -W5 3×10 mm² 5 m]
    circuits:
      - {id: -F1, name: Sockets, device: B16 1P+N 6 kA, cable: 3×2.5 mm² 20 m, use: sockets}
)",
    .check = check,
};

}  // namespace linewright::rules

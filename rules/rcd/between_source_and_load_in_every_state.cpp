// Speaks when an RCD that a circuit needs guards it from one source or in one state, but not from
// another source or in another state, bypasses left out (bypass-path-keeps-rcd). A circuit that
// never had one is left to additional-protection-circuits and tt-whole-installation. Only sources
// that form the voltage are looked at: a source that follows on the load side of an RCD is left
// to no-source-on-load-side-of-shared-rcd. A fault current that does not come home at all, or comes
// back through the RCD, is left to the earthing rules about neutral-earth bonds: never a pass here.

#include <algorithm>
#include <map>

#include <fmt/core.h>

#include "check/naming.hpp"
#include "check/rcd_cover.hpp"
#include "check/rule.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using check::CircuitCover;
using check::SkippedRcd;
using check::Standing;

bool judged_here(const network::StateView& state) {
  return state.state->kind != site::StateKind::bypass;
}

Verdict judge(const AnalysedSite& site, const CircuitCover& cover) {
  const Subject subject = site.about(check::circuit_device(*cover.loop), cover.state);
  if (cover.standing == Standing::guarded) return holds(subject);
  if (cover.standing != Standing::undecided || !cover.guarded_elsewhere)
    return not_relevant(subject);
  return open(
      subject,
      fmt::format("whether an RCD guards '{}' from {}", check::circuit_name(site, cover.loop->load),
                  check::quoted(site, cover.loop->source)),
      cover.missing);
}

/// What one RCD leaves unguarded, over all states: one cause, told alike in each of them.
struct Left {
  std::vector<const network::StateView*> states;
  std::vector<std::size_t> sources;
  std::vector<std::size_t> loads;
};

template <class T>
void add_once(std::vector<T>& list, const T& item) {
  if (std::ranges::count(list, item) == 0) list.push_back(item);
}

std::map<std::size_t, Left> left_by_rcd(const std::vector<CircuitCover>& covers) {
  std::map<std::size_t, Left> all;
  for (const SkippedRcd& skipped : check::skipped_rcds(covers)) {
    if (!judged_here(*skipped.state)) continue;
    Left& left = all[skipped.rcd];
    add_once(left.states, skipped.state);
    add_once(left.sources, skipped.source);
    for (const std::size_t load : skipped.loads)
      add_once(left.loads, load);
  }
  return all;
}

Verdict judge(const AnalysedSite& site, const network::StateView& state, std::size_t rcd,
              const Left& left) {
  const std::string sources = check::quoted(site, left.sources);
  Verdict verdict =
      broken(site.about(rcd, &state),
             fmt::format("'{}' does not guard {} from {}, must from every source", site.name(rcd),
                         check::circuits_in_words(site, left.loads), sources),
             "move the RCD to the load side of the transfer, or fit one in each circuit named");
  verdict.notes =
      check::circuit_notes(site, left.loads, fmt::format("has no RCD towards {}", sources));
  return verdict;
}

std::vector<Verdict> check(const AnalysedSite& site) {
  const std::vector<CircuitCover> covers = check::circuit_covers(site);
  std::vector<Verdict> verdicts;
  for (const auto& [rcd, left] : left_by_rcd(covers))
    for (const network::StateView* state : left.states)
      verdicts.push_back(judge(site, *state, rcd, left));
  for (const CircuitCover& cover : covers)
    if (judged_here(*cover.state) && cover.standing != Standing::skipped)
      verdicts.push_back(judge(site, cover));
  return verdicts;
}

}  // namespace

extern const check::Rule between_source_and_load_in_every_state{
    .id = "rcd/between-source-and-load-in-every-state",
    .severity = Severity::danger,
    .must_hold =
        "Every circuit that needs an RCD has one between itself and each source that can "
        "feed it, in each state.",
    .why =
        "An RCD at the grid's incomer is no longer between source and load when an inverter or "
        "generator feeds from the other side: the house runs unprotected while every test "
        "button works.",
    .clauses = {"IEC 60364-5-55 551.4.1", "IEC 60364-4-41 411.3.3", "IEC 60364-4-41 411.5",
                "AS/NZS 3000 7.3.8.1.2"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {"rcd limit", "rcd sockets", "rcd sockets up to", "rcd outdoors",
                     "rcd lighting in dwellings", "rcd bathroom", "rcd ev", "rcd whole dwelling"},
    .example = R"(site: {name: RCD left on the grid side}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
generators:
  -G1: {power: 6 kVA, neutral: linked, winding: line-neutral, fixed: yes, earth: 16 mm²}
panel:
  id: +A2
  interior: manual changeover
  grid: [A1, -F10 RCD 63 A 2P 30 mA type A, -W2 3×10 mm² 5 m]
  generator: [-G1, -W3 3×6 mm² 5 m]
  changeover: 63 A 2P by hand
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m]}
  +A3:
    feed: [A2, -W4 3×10 mm² 5 m]
    circuits:
      - {id: -F1, name: Sockets, device: B16 1P+N 6 kA, cable: 3×2.5 mm² 20 m, use: sockets}
)",
    .check = check,
};

}  // namespace linewright::rules

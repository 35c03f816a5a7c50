// Every circuit that a portable set feeds has an RCD of at most the profile's limit.
//
// Speaks of circuits without need of their own: where the use asks for such an RCD anyway,
// additional-protection-circuits and between-source-and-load-in-every-state speak. One that is
// there but sees no fault is left to the rules on bonds, protection by separation to those on a
// set without bond. The finding stands at the set.
#include <algorithm>
#include <map>
#include <string>
#include <vector>

#include <fmt/core.h>

#include "check/rcd_cover.hpp"
#include "check/rule.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using check::CircuitCover;

bool is_portable(const AnalysedSite& site, std::size_t source) {
  const auto* set = site::facts<site::Generator>(site.element(source));
  return set != nullptr && set->fixed == false;
}

/// The circuits that one set feeds in one state, as far as they are asked here.
struct Fed {
  std::vector<std::size_t> without;
  std::vector<std::size_t> unrated;  ///< devices whose rated residual current is not given
};

void add(const AnalysedSite& site, const network::Loop& loop, Current limit, Fed& fed) {
  std::size_t unrated = site::none;
  for (const network::RcdOnLoop& rcd : loop.rcds) {
    const site::Residual& side = *check::residual(site, rcd.element);
    if (side.delay == site::ResidualDelay::selective) continue;
    if (!side.operating_current)
      unrated = rcd.element;
    else if (*side.operating_current <= limit)
      return;
  }
  if (unrated != site::none)
    fed.unrated.push_back(unrated);
  else
    fed.without.push_back(loop.load);
}

Verdict judge(const AnalysedSite& site, const network::StateView& state, std::size_t source,
              const Fed& fed) {
  const Subject subject = site.about(source, &state);
  if (!fed.without.empty()) {
    Verdict verdict = broken(
        subject,
        fmt::format("portable '{}' feeds {} without RCD of {} or less", site.name(source),
                    check::circuits_in_words(site, fed.without), site.profile.text("rcd limit")),
        "fit an RCD, not delayed, in the circuits named or in the way of the set");
    verdict.notes = check::circuit_notes(site, fed.without, "has none towards this set");
    return verdict;
  }
  if (fed.unrated.empty()) return holds(subject);
  const std::string& name = site.name(fed.unrated.front());
  return open(subject, fmt::format("whether '{}' is fine enough for a portable set", name),
              fmt::format("residual operating current of '{}' (device: … 30 mA)", name));
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  const auto limit = site.profile.current("rcd limit");
  if (!limit) return verdicts;
  std::map<std::pair<const network::StateView*, std::size_t>, Fed> all;
  for (const CircuitCover& cover : check::circuit_covers(site)) {
    if (!is_portable(site, cover.loop->source)) continue;
    Fed& fed = all[{cover.state, cover.loop->source}];
    const auto& load = std::get<site::LoadGroup>(site.element(cover.loop->load).facts);
    if (cover.wanted == check::Wanted::additional || load.use == site::Use::separated) continue;
    add(site, *cover.loop, *limit, fed);
  }
  for (const auto& [at, fed] : all)
    verdicts.push_back(judge(site, *at.first, at.second, fed));
  return verdicts;
}

}  // namespace

extern const check::Rule portable_source_30ma{
    .id = "rcd/portable-source-30ma",
    .severity = Severity::danger,
    .must_hold = "Circuits fed from a portable set have an RCD of at most 30 mA.",
    .why =
        "Loose cables, wet ground and a weak source come together: a breaker may never see "
        "enough current to open.",
    .clauses = {"IEC 60364-5-55 551.4.4.2", "BS 7671 551.4.4.2"},
    .confirmation = check::Confirmation::partly,
    .profile_keys = {"rcd limit"},
    .example = R"(# A heater on a plain breaker, fed from a set on wheels.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
generators:
  -G1: {neutral: linked, winding: line-neutral, fixed: no, own rcd: no}
panel:
  id: +A2
  interior: generator inlet
  grid: [A1, -W2 3×10 mm² 5 m]
  generator: [-G1, -W3 3×6 mm² 5 m]
  inlet: 32 A
  changeover: 63 A 2P by hand
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m]}
  +A3:
    feed: [A2, -W4 3×10 mm² 5 m]
    circuits:
      - {id: -F1, name: Heater, device: B16 1P+N, cable: 3×2.5 mm² 9 m, use: fixed, dwelling: no}
)",
    .check = check,
};

}  // namespace linewright::rules

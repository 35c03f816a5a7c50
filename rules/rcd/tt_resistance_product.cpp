// Speaks about the first RCD on each loop that goes home through the ground: it alone guards the
// wiring down to the next RCD, and its residual current is the largest relied on. No RCD at all is
// left to tt-whole-installation.
//
// RA is the resistance of all electrodes that the circuit's protective conductor reaches, in
// parallel; an electrode of unknown value can only lower it, so that the known ones may suffice.

#include <algorithm>
#include <optional>
#include <set>
#include <string>

#include <fmt/core.h>

#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "units/print.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::Loop;
using network::StateView;

/// The consumer's electrodes as the protective conductor of a load sees them.
struct Earthing {
  std::optional<Resistance> greatest;  ///< RA, with electrodes of unknown value left out
  std::size_t unknown = site::none;    ///< one whose value is not given
  std::size_t known = site::none;
};

Earthing electrodes_of(const AnalysedSite& site, const StateView& state, std::size_t load) {
  Earthing earthing;
  const std::uint32_t pe = site.network.node(load, 0, site::Conductor::pe);
  double conductance = 0.0;
  for (std::size_t e = 0; e < site.site.elements.size(); ++e) {
    const auto* electrode = site::facts<site::Electrode>(site.element(e));
    if (electrode == nullptr) continue;
    if (!state.joined(site.network.node(e, 0, site::Conductor::pe), pe)) continue;
    if (!electrode->resistance || !(electrode->resistance->si > 0.0)) {
      earthing.unknown = e;
      continue;
    }
    earthing.known = e;
    conductance += 1.0 / electrode->resistance->si;
  }
  if (conductance > 0.0) earthing.greatest = Resistance{1.0 / conductance};
  return earthing;
}

/// What a person may touch for as long as it takes.
bool within(Resistance r_a, Current i_dn, Voltage limit) {
  return (r_a * i_dn).si <= limit.si * (1.0 + 1e-9);  // 500 Ω × 100 mA is 50 V, not a hair more
}

Verdict judge(const AnalysedSite& site, const StateView& state, const Loop& loop, Voltage limit) {
  const std::size_t rcd = loop.rcds.front().element;
  const Subject subject = site.about(rcd, &state);
  const std::string question =
      fmt::format("whether RA × IΔn of '{}' is at most {}", site.name(rcd), limit);
  const auto i_dn = check::residual(site, rcd)->operating_current;
  if (!i_dn)
    return open(
        subject, question,
        fmt::format("residual operating current of '{}' (device: … 30 mA)", site.name(rcd)));
  const Earthing earthing = electrodes_of(site, state, loop.load);
  if (earthing.greatest && within(*earthing.greatest, *i_dn, limit)) {
    const auto guide = site.profile.resistance("electrode guide value");
    if (!guide || *earthing.greatest <= *guide) return holds(subject);
    Verdict advice =
        broken(site.about(earthing.known, &state),
               fmt::format("electrode is {}, should be {} or less", *earthing.greatest, *guide),
               "drive the electrode deeper or add one: high values do not last");
    advice.severity = Severity::advice;
    return advice;
  }
  if (earthing.unknown != site::none || !earthing.greatest) {
    const std::string which =
        earthing.unknown == site::none
            ? "an electrode with its resistance (earthing: electrodes)"
            : fmt::format("resistance of '{}' (earthing: electrodes)", site.name(earthing.unknown));
    return open(subject, question, which);
  }
  Verdict verdict =
      broken(subject,
             fmt::format("RA × IΔn at '{}' is {}, must be {} or less", site.name(rcd),
                         print_rounded(*earthing.greatest * *i_dn), limit),
             "lower the electrode's resistance, or fit a first RCD of smaller residual current");
  verdict.notes.push_back(
      {site.element(earthing.known).where, fmt::format("RA is {}", *earthing.greatest)});
  return verdict;
}

/// A circuit of a TT supply whose current does not come home at all: the electrode is missing.
bool lacks_way_home(const AnalysedSite& site, const Loop& loop) {
  const auto* supply = site::facts<site::Supply>(site.element(loop.source));
  return supply != nullptr && supply->earthing == site::Earthing::tt &&
         loop.return_path == network::ReturnPath::none &&
         site.network.node(loop.load, 0, site::Conductor::pe) != network::no_node;
}

/// The circuits behind one RCD give the same answer, unless their electrodes differ.
void add_once(Verdict verdict, std::vector<Verdict>& verdicts) {
  const auto same = [&](const Verdict& other) {
    return other.outcome == verdict.outcome && other.element == verdict.element &&
           other.state == verdict.state && other.message == verdict.message &&
           other.missing == verdict.missing;
  };
  if (std::ranges::none_of(verdicts, same)) verdicts.push_back(std::move(verdict));
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  const auto limit = site.profile.voltage("touch voltage limit");
  if (!limit) return verdicts;
  for (const StateView& state : site.states) {
    std::set<std::size_t> asked;
    for (const Loop& loop : state.loops) {
      if (loop.return_path == network::ReturnPath::through_earth && !loop.rcds.empty()) {
        add_once(judge(site, state, loop, *limit), verdicts);
      } else if (lacks_way_home(site, loop) && asked.insert(loop.source).second) {
        verdicts.push_back(open(site.about(loop.source, &state),
                                fmt::format("whether RA × IΔn is at most {}", *limit),
                                "an electrode at the main earthing terminal, with its resistance "
                                "(earthing: electrodes)"));
      }
    }
  }
  return verdicts;
}

}  // namespace

extern const check::Rule tt_resistance_product{
    .id = "rcd/tt-resistance-product",
    .severity = Severity::danger,
    .must_hold =
        "In TT the resistance of the earth electrode times the rated residual current of "
        "the largest RCD relied on is at most 50 V.",
    .why = "Above it metalwork can stay at more than 50 V for any length of time without a trip.",
    .clauses = {"IEC 60364-4-41 411.5.3"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {"touch voltage limit", "electrode guide value"},
    .example = R"(site: {name: Electrode too poor for its RCD}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TT}
earthing: {electrodes: {-XE1: 501 ohm}}
boards:
  +A1:
    feed: [supply, -W1 2×16 mm² 3 m double insulated, -F1 RCD 63 A 2P 100 mA type A S]
    circuits:
      - {id: -F2, name: Pump, device: B16 1P+N 6 kA, cable: 3×2.5 mm² 20 m, use: motor}
states:
  grid: {}
)",
    .check = check,
};

}  // namespace linewright::rules

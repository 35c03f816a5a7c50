// Speaks of an RCD that a heat pump shares, and of a heat pump of which the file says neither
// whether it has a converter nor what its maker asks for. Left to others: the type itself
// (rcd/type-for-variable-speed-drive), a lesser RCD that the maker's direct current blinds, which
// is mended by a way of its own as well (rcd/upstream-not-blinded).

#include <algorithm>
#include <set>
#include <string>

#include <fmt/core.h>

#include "check/heat_pumps.hpp"
#include "check/rcd_cover.hpp"
#include "check/rule.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using check::HeatPumpCircuit;
using site::ResidualType;

/// Other circuits whose last RCD is the heat pump's as well.
std::set<std::size_t> sharing(const network::StateView& state, std::size_t pump, std::size_t rcd) {
  std::set<std::size_t> loads;
  for (const network::Loop& loop : state.loops)
    if (loop.load != pump && !loop.rcds.empty() && loop.rcds.back().element == rcd)
      loads.insert(loop.load);
  return loads;
}

bool blinded_by(const AnalysedSite& site, const HeatPumpCircuit& pump, std::size_t rcd) {
  constexpr Current limit{0.006};
  const bool more = pump.load->dc_leakage ? *pump.load->dc_leakage > limit * (1.0 + 1e-9)
                                          : pump.load->declared_rcd_type == ResidualType::b;
  return more && check::residual(site, rcd)->type != ResidualType::b;
}

Verdict judge(const AnalysedSite& site, const HeatPumpCircuit& pump,
              const network::StateView& state, const network::Loop& loop) {
  const std::size_t rcd = loop.rcds.back().element;
  const std::string name = check::circuit_name(site, pump.element);
  const auto others = sharing(state, pump.element, rcd);
  if (!others.empty() && blinded_by(site, pump, rcd)) return not_relevant(site.about(rcd, &state));
  if (!others.empty()) {
    Verdict verdict =
        broken(site.about(rcd, &state),
               fmt::format("'{}' shares '{}' with others, must have its own", name, site.name(rcd)),
               "give the heat pump an RCD of its own, of the type that its maker asks for");
    verdict.notes =
        check::circuit_notes(site, {others.begin(), others.end()}, "goes off with the heat pump");
    return verdict;
  }
  const Subject subject = check::at_circuit(site, pump.element, &state);
  const bool said = pump.load->drive || pump.load->declared_rcd_type;
  const bool widest = check::residual(site, rcd)->type == ResidualType::b;
  if (said || widest) return holds(subject);
  // A heat pump that says nothing is open at type-for-variable-speed-drive, which names both keys.
  return not_relevant(subject);
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const HeatPumpCircuit& pump : check::heat_pumps(site))
    for (const network::StateView& state : site.states)
      for (const network::Loop& loop : state.loops)
        if (loop.load == pump.element && !loop.rcds.empty())
          verdicts.push_back(judge(site, pump, state, loop));
  return verdicts;
}

}  // namespace

extern const check::Rule rcd_type_declared{
    .id = "heatpump/rcd-type-declared",
    .severity = Severity::breach,
    .must_hold =
        "A heat pump has an RCD of its own, of the type that its maker asks for, not that of a "
        "split board.",
    .why =
        "What its drive leaks blinds or trips the RCD for every other circuit behind it, and a "
        "fault elsewhere stops the heating.",
    .clauses = {"IEC 60364-5-53 531.3.3", "BS 7671 531.3.3", "BS 7671 Table A53.1"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {},
    .example = R"(site: {name: Heat pump on a shared RCD}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]
    circuits:
      - group: -F10 RCD 63 A 2P 30 mA type F
        circuits:
          - {id: -F1, name: Heat pump, device: C16 1P+N 6 kA, cable: 3×2.5 mm² 12 m, use: heat pump, drive: yes, rcd type: F, leakage: 3 mA, heat pump: {local isolator: yes}}
          - {id: -F2, name: Sockets, device: B16 1P+N 6 kA, cable: 3×2.5 mm² 20 m, use: sockets}
states:
  grid: {}
)",
    .check = check,
};

}  // namespace linewright::rules

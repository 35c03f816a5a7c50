// Speaks of every heat pump. Whether the isolator is in sight of the unit and can be locked, only
// someone on site can see: it becomes a question once the file says that there is one.

#include <string>

#include <fmt/core.h>

#include "check/heat_pumps.hpp"
#include "check/rcd_cover.hpp"
#include "check/rule.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using check::HeatPumpCircuit;

void judge(const AnalysedSite& site, const HeatPumpCircuit& circuit, std::vector<Verdict>& into) {
  const Subject subject = check::at_circuit(site, circuit.element);
  const std::string name = check::circuit_name(site, circuit.element);
  if (!circuit.pump.local_isolator) {
    into.push_back(open(subject, fmt::format("whether '{}' can be made safe beside it", name),
                        fmt::format("isolator beside '{}' (heat pump: local isolator)", name)));
  } else if (!*circuit.pump.local_isolator) {
    into.push_back(broken(subject, fmt::format("'{}' has no isolator beside it", name),
                          "fit a lockable one for all live poles in sight of the outdoor unit"));
  } else {
    into.push_back(holds(subject));
    into.push_back(asks(subject, fmt::format("whether the isolator of '{}' is in its sight", name),
                        "it is, can be locked off, opens all live poles, and isolates no source"));
  }
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const HeatPumpCircuit& circuit : check::heat_pumps(site))
    judge(site, circuit, verdicts);
  return verdicts;
}

}  // namespace

extern const check::Rule local_isolator{
    .id = "heatpump/local-isolator",
    .severity = Severity::breach,
    .must_hold =
        "A heat pump has a lockable isolator for all live poles in sight of its outdoor unit.",
    .why = "Whoever serves it has their hands at a fan that starts by itself.",
    .clauses = {"IEC 60364-4-46 464", "IEC 60364-5-53 537.3.2"},
    .confirmation = check::Confirmation::memory,
    .profile_keys = {},
    .example = R"(site: {name: Heat pump without isolator}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F1, name: Heat pump, device: C16 2P 30 mA type B 6 kA, cable: 3×2.5 mm² 12 m, use: heat pump, drive: yes, leakage: 3 mA, heat pump: {local isolator: no}}
states:
  grid: {}
)",
    .check = check,
};

}  // namespace linewright::rules

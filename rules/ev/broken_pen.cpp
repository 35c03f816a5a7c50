// A car charged outdoors on a supply with a PEN is protected against the loss of that PEN.
//
// Speaks of charge points outdoors whose protective conductor comes from a PEN, where the country
// asks for a measure, and everywhere of a PEN that leads into a charge point's own circuit. That a
// charge point on its own electrode is out of reach of other earths is left to
// no-simultaneous-reach-of-two-earths, the electrode's value to rcd/tt-resistance-product.
#include <vector>

#include <fmt/core.h>

#include "check/charge_points.hpp"
#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "check/second_bonds.hpp"
#include "units/print.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;

Verdict unprotected(const AnalysedSite& site, std::size_t load, const std::string& message) {
  return broken(site.about(load), message,
                fmt::format("fit a charge point that opens live conductors and earth, or an "
                            "electrode of its own without the PE core, for '{}'",
                            check::circuit_name(site, load)));
}

/// By the charge point's own device, as far as the file says what that does.
Verdict judge_device(const AnalysedSite& site, std::size_t load, const site::LoadGroup& facts) {
  const std::string name = check::circuit_name(site, load);
  if (!facts.pen_detection)
    return open(site.about(load), fmt::format("what '{}' does when the PEN breaks", name),
                fmt::format("'pen detection' or 'own electrode' of '{}'", name));
  switch (*facts.pen_detection) {
    case site::PenDetection::opens_live_and_earth:
      return holds(site.about(load));
    case site::PenDetection::opens_live:
      return unprotected(
          site, load,
          fmt::format("'{}' keeps the car on the earth of a broken PEN, must open it too", name));
    case site::PenDetection::none:
      break;
  }
  return unprotected(
      site, load, fmt::format("'{}' is outdoors on a PEN with no measure against its loss", name));
}

Verdict judge_measure(const AnalysedSite& site, std::size_t load, const site::LoadGroup& facts) {
  const std::string name = check::circuit_name(site, load);
  if (facts.own_electrode == true)
    return unprotected(
        site, load,
        fmt::format("'{}' has an electrode, but its PE core still leads to the PEN", name));
  const auto limit = site.profile.voltage("ev touch voltage limit");
  const auto touch = check::charging(site, load).touch_voltage;
  if (limit && touch) {
    if (touch->si <= limit->si * (1.0 + 1e-9)) return holds(site.about(load));
    if (facts.pen_detection != site::PenDetection::opens_live_and_earth)
      return unprotected(site, load,
                         fmt::format("touch voltage of '{}' at a broken PEN is {}, must be {} or "
                                     "less",
                                     name, *touch, *limit));
  }
  return judge_device(site, load, facts);
}

Verdict judge(const AnalysedSite& site, std::size_t load) {
  const Subject where = site.about(load);
  const auto& facts = std::get<site::LoadGroup>(site.element(load).facts);
  const std::string name = check::circuit_name(site, load);
  if (site.element(load).conductors.has(site::Conductor::pen))
    return broken(where, fmt::format("a PEN leads to '{}', must be N and PE apart", name),
                  "split the PEN ahead of this circuit and lead N and PE to the charge point");
  const std::size_t supply = check::supply_of(site);
  if (supply == site::none || !site.profile.says_yes("ev broken pen measure"))
    return not_relevant(where);
  const auto earthing = site::facts<site::Supply>(site.element(supply))->earthing;
  if (!earthing)
    return open(where, fmt::format("whether the earth of '{}' comes from a PEN", name),
                "'earthing' of 'supply'");
  if (*earthing != site::Earthing::tn_c_s || facts.outdoors == false) return not_relevant(where);
  if (!check::on_supply_earth(site, load)) return holds(where);
  if (!facts.outdoors)
    return open(where, fmt::format("whether cars on '{}' may stand outdoors", name),
                fmt::format("'outdoors' of '{}'", name));
  return judge_measure(site, load, facts);
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const std::size_t load : check::charge_points(site)) {
    verdicts.push_back(judge(site, load));
    const auto& facts = std::get<site::LoadGroup>(site.element(load).facts);
    const bool by_device = verdicts.back().outcome == Outcome::holds &&
                           facts.pen_detection == site::PenDetection::opens_live_and_earth;
    if (by_device)
      verdicts.push_back(
          asks(site.about(load),
               fmt::format("at what touch voltage '{}' opens live and earth, and how "
                           "fast, by its maker",
                           check::circuit_name(site, load)),
               fmt::format("above {}, within {}", site.profile.text("ev touch voltage limit"),
                           site.profile.text("ev broken pen time"))));
  }
  return verdicts;
}

}  // namespace

extern const check::Rule broken_pen{
    .id = "ev/broken-pen",
    .severity = Severity::danger,
    .must_hold =
        "Outdoors on a supply with PEN, cars are protected against its loss: by an electrode of "
        "their own, a device that opens earth as well, or a touch voltage kept low.",
    .why =
        "The car's body takes the neutral's voltage while its tyres insulate it from the ground; "
        "whoever touches it closes the circuit.",
    .clauses = {"BS 7671 722.411.4.1", "IEC 60364-7-722 (TN-S for the final circuit)"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {"ev broken pen measure", "ev touch voltage limit", "ev broken pen time"},
    .example =
        R"(# A charge point in the drive, on the street's combined neutral and earth, without any measure.
profile: GB
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-C-S}
boards:
  +A1:
    feed: [supply, -W1 2×25 mm² + 16 mm² PE 3 m, -Q1 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F1, name: Car, device: C40 2P 30 mA type B 6 kA, cable: 3×6 mm² 20 m, use: EV, outdoors: yes, pen detection: none}
states:
  grid: {}
)",
    .check = check,
};

}  // namespace linewright::rules

// A charge point has a circuit of its own that carries it for hours.
//
// Speaks of what else hangs on the point's overcurrent device, of several points on one circuit, of
// diversity without management, and of the device's rated current against the point's. Whether the
// point shares its RCD is left to rcd/type-for-ev; the cable waits for the rules on cable sizes.
#include <algorithm>
#include <optional>
#include <vector>

#include <fmt/core.h>

#include "check/charge_points.hpp"
#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "units/print.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::Loop;

bool limits(const AnalysedSite& site, std::size_t element) {
  const auto kind = std::get<site::Device>(site.element(element).facts).kind;
  return kind == site::DeviceKind::breaker || kind == site::DeviceKind::rcbo ||
         kind == site::DeviceKind::fuse || kind == site::DeviceKind::fuse_switch;
}

/// The overcurrent device nearest to the load, or none.
std::size_t overcurrent_device(const AnalysedSite& site, const Loop& loop) {
  for (auto guard = loop.line_guards.rbegin(); guard != loop.line_guards.rend(); ++guard)
    if (limits(site, *guard)) return *guard;
  return site::none;
}

/// A circuit that has the same nearest overcurrent device, or none.
std::size_t sharer(const AnalysedSite& site, const network::StateView& state, std::size_t load,
                   std::size_t device) {
  for (const Loop& loop : state.loops)
    if (loop.load != load && overcurrent_device(site, loop) == device) return loop.load;
  return site::none;
}

Verdict judge_points(const AnalysedSite& site, std::size_t load) {
  const site::ChargePoint& it = check::charging(site, load);
  const Subject where = site.about(load);
  const std::string name = check::circuit_name(site, load);
  if (!it.points)
    return open(where, fmt::format("how many connecting points '{}' feeds", name),
                fmt::format("'points' under 'charging' of '{}'", name));
  if (*it.points == 1 || it.each_protected == true) return holds(where);
  if (!it.each_protected)
    return open(where, fmt::format("whether each of the {} points has its own device", *it.points),
                fmt::format("'each protected' under 'charging' of '{}'", name));
  return broken(where, fmt::format("'{}' feeds {} points on one circuit", name, *it.points),
                "give each point a circuit of its own, or a charger that protects each by itself");
}

Verdict judge_diversity(const AnalysedSite& site, std::size_t load) {
  const auto& facts = std::get<site::LoadGroup>(site.element(load).facts);
  const site::ChargePoint& it = check::charging(site, load);
  const Subject where = site.about(load);
  const std::string name = check::circuit_name(site, load);
  if (!facts.diversity || *facts.diversity >= 1.0 || it.managed == true) return holds(where);
  if (!it.managed)
    return open(where, fmt::format("whether management backs the diversity of '{}'", name),
                fmt::format("'managed by' under 'charging' of '{}'", name));
  return broken(where,
                fmt::format("'{}' counts with diversity {:.3g} and is not managed, must be 1", name,
                            *facts.diversity),
                "count it in full, or let management hold it back");
}

/// I = P / (n U0), at a power factor of one.
Verdict judge_rating(const AnalysedSite& site, std::size_t load, std::size_t device) {
  const auto& facts = std::get<site::LoadGroup>(site.element(load).facts);
  const std::string name = check::circuit_name(site, load);
  const Subject where = site.about(device);
  const auto rated = std::get<site::Device>(site.element(device).facts).rated_current;
  const auto u0 = site.site.system.line_to_earth;
  const int lines = (site.element(load).conductors & site::lines).count();
  if (!facts.power)
    return open(where, fmt::format("whether '{}' carries '{}'", site.name(device), name),
                fmt::format("'load' of '{}'", name));
  if (!rated)
    return open(where, fmt::format("whether '{}' carries '{}'", site.name(device), name),
                fmt::format("rated current of '{}' (device)", site.name(device)));
  if (!u0 || !(u0->si > 0.0) || lines == 0)
    return open(where, fmt::format("what current '{}' takes", name), "voltage of the 'system'");
  const Current taken{facts.power->in(unit::watt) / (lines * u0->si)};
  if (rated->si >= taken.si * (1.0 - 1e-9)) return holds(where);
  return broken(
      where,
      fmt::format("'{}' is {}, '{}' takes {} for hours", site.name(device), *rated, name, taken),
      "fit a device and a cable for the full current, or set the point lower");
}

void judge_device(const AnalysedSite& site, std::size_t load, std::vector<Verdict>& verdicts) {
  for (const network::StateView& state : site.states)
    for (const Loop& loop : state.loops) {
      if (loop.load != load) continue;
      const std::size_t device = overcurrent_device(site, loop);
      if (device == site::none) return;
      const std::size_t other = sharer(site, state, load, device);
      if (other == site::none) {
        verdicts.push_back(judge_rating(site, load, device));
        return;
      }
      Verdict verdict =
          broken(site.about(device),
                 fmt::format("'{}' feeds '{}' and others, must be its own", site.name(device),
                             check::circuit_name(site, load)),
                 "give the charge point an overcurrent device and a cable of its own");
      verdict.notes.push_back({site.element(other).where,
                               fmt::format("'{}' is on it too", check::circuit_name(site, other))});
      verdicts.push_back(std::move(verdict));
      return;
    }
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const std::size_t load : check::charge_points(site)) {
    verdicts.push_back(judge_points(site, load));
    verdicts.push_back(judge_diversity(site, load));
    judge_device(site, load, verdicts);
  }
  return verdicts;
}

}  // namespace

extern const check::Rule own_circuit{
    .id = "ev/own-circuit",
    .severity = Severity::breach,
    .must_hold =
        "Each connecting point has a circuit of its own, or its own device in the charger, rated "
        "for the full current without diversity unless it is managed.",
    .why = "A car takes its full current for hours: what is shared or counted down runs hot.",
    .clauses = {"IEC 60364-7-722 722.311, 722.314, 722.533"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {},
    .example = R"(# Two points on one cable and one breaker.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F1, name: Cars, device: C40 2P 30 mA type B 6 kA, cable: 3×6 mm² 20 m, use: EV, load: 7.4 kW,
         charging: {points: 2, each protected: no}}
states:
  grid: {}
)",
    .check = check,
};

}  // namespace linewright::rules

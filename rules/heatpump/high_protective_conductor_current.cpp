// Speaks of heat pumps, drives and whatever states its leakage. Above the limit the protective
// conductor of the circuit's cable must be of the profile's size, or a second one must lead there.
// The limit is for currents of the mains' frequency; what filters let through above it is extra.
// The smaller leakage of other equipment that states none is taken for granted (plugs: IEC 61140).

#include <optional>
#include <string>

#include <fmt/core.h>

#include "check/heat_pumps.hpp"
#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "units/print.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;

constexpr double hair = 1e-9;  // a value as read need not be the limit to the last bit

/// The cable that brings the protective conductor to the load, or null.
const site::Run* cable_to(const AnalysedSite& site, std::size_t load) {
  for (const site::Run& run : site.site.runs)
    if (run.to.element == load && run.cable && (run.conductors & site::lines).count() > 0)
      return &run;
  return nullptr;
}

/// Its protective conductor, where the file tells of it.
std::optional<Area> earth_of(const site::Run& run) {
  if (!run.conductors.has(site::Conductor::pe) || !run.cable) return std::nullopt;
  return run.cable->earth_cross_section ? run.cable->earth_cross_section : run.cable->cross_section;
}

bool large_enough(const AnalysedSite& site, std::size_t load, Area least) {
  const site::Run* run = cable_to(site, load);
  // 10 mm² is said of copper.
  if (run == nullptr || !run->cable || run->cable->material == "Al") return false;
  const auto earth = earth_of(*run);
  return earth && *earth >= least * (1.0 - hair);
}

Verdict judge(const AnalysedSite& site, std::size_t element, const site::LoadGroup& load,
              Current limit) {
  const Area least = 10.0 * unit::mm2;
  const Subject subject = check::at_circuit(site, element);
  const std::string name = check::circuit_name(site, element);
  if (load.second_earth == true || large_enough(site, element, least)) return holds(subject);
  if (!load.leakage)
    return open(subject, fmt::format("whether '{}' needs a stronger protective conductor", name),
                fmt::format("leakage of '{}' (leakage), or its second earth (second earth)", name));
  if (!(*load.leakage > limit * (1.0 + hair))) return holds(subject);
  if (load.second_earth || cable_to(site, element) != nullptr)
    return broken(
        subject,
        fmt::format("'{}' leaks {} over one earth of less than 10 mm²", name, *load.leakage),
        "lead a second protective conductor to it, or one of 10 mm² copper");
  return open(subject, fmt::format("whether the earth of '{}' stands its leakage", name),
              fmt::format("cable of '{}' (cable), or its second earth (second earth)", name));
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  const auto limit = site.profile.current("protective conductor current");
  if (!limit) return verdicts;
  for (std::size_t e = 0; e < site.site.elements.size(); ++e) {
    const auto* load = site::facts<site::LoadGroup>(site.element(e));
    if (load == nullptr) continue;
    const bool asked = load->use == site::Use::heat_pump || load->drive == true || load->leakage;
    if (asked && load->class_two != true) verdicts.push_back(judge(site, e, *load, *limit));
  }
  return verdicts;
}

}  // namespace

extern const check::Rule high_protective_conductor_current{
    .id = "heatpump/high-protective-conductor-current",
    .severity = Severity::breach,
    .must_hold =
        "Equipment with more than 10 mA in its protective conductor has one of at least 10 mm² "
        "copper, or two.",
    .why = "When a single thin earth breaks, that current goes through whoever touches the case.",
    .clauses = {"IEC 60364-5-54 543.7", "BS 7671 543.7"},
    .confirmation = check::Confirmation::partly,
    .profile_keys = {"protective conductor current"},
    .example = R"(site: {name: Leaking drive on a thin earth}
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 5×16 mm² 3 m, -Q1 switch-disconnector 63 A 4P]
    circuits:
      - {id: -F1, name: Pump, device: C16 4P 300 mA type B 6 kA, cable: 5×2.5 mm² 12 m, use: motor, drive: yes, leakage: 14 mA}
states:
  grid: {}
)",
    .check = check,
};

}  // namespace linewright::rules

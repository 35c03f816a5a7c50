// Speaks of sites with sources in parallel: one lockable isolator between the supply and all of
// them, or certified separation where the country accepts it. That nothing isolates a source at all
// is left to isolating-device-not-only-contactor. Whether the distributor can reach it only a look
// tells.
#include <algorithm>
#include <optional>

#include <fmt/core.h>

#include "check/naming.hpp"
#include "check/rule.hpp"
#include "check/second_bonds.hpp"
#include "check/source_ways.hpp"
#include "units/print.hpp"
#include "units/read.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;

struct Parallel {
  std::vector<std::size_t> sources;
  std::vector<std::size_t> at_origin;  ///< devices on every way from the supply to every source
};

Parallel parallel_sources(const AnalysedSite& site) {
  Parallel found;
  const std::size_t supply = check::supply_of(site);
  bool first = true;
  for (const check::SourceWay& way : check::ways_between_sources(site)) {
    if (way.from != supply || site::facts<site::Inverter>(site.element(way.to)) == nullptr)
      continue;
    if (std::ranges::count(found.sources, way.to) == 0) found.sources.push_back(way.to);
    if (first) found.at_origin = way.lines.devices;
    first = false;
    std::erase_if(found.at_origin, [&](std::size_t device) {
      return std::ranges::count(way.lines.devices, device) == 0;
    });
  }
  return found;
}

/// Whether certificates stand in place of the isolator: the country accepts them up to a power.
bool certified(const AnalysedSite& site, const std::vector<std::size_t>& sources) {
  if (site.profile.text("distributor isolator") != "lockable or certificate") return false;
  ApparentPower total{};
  for (const std::size_t source : sources) {
    const auto* inverter = site::facts<site::Inverter>(site.element(source));
    if (!inverter->protection || inverter->protection->certificate.empty()) return false;
    if (!inverter->power) return false;
    total = total + *inverter->power;
  }
  const auto limit =
      read_quantity<ApparentPower>(site.profile.text("distributor isolator certificate up to"));
  return !limit || total <= *limit;
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  const std::size_t supply = check::supply_of(site);
  if (supply == site::none) return {not_relevant({})};
  const Parallel parallel = parallel_sources(site);
  const Subject subject = site.about(supply);
  if (parallel.sources.empty() || site.profile.text("distributor isolator").empty())
    return {not_relevant(subject)};
  if (certified(site, parallel.sources)) return {holds(subject)};
  std::vector<std::size_t> asked;
  bool unfit = false;
  for (const std::size_t e : parallel.at_origin) {
    const auto* device = site::facts<site::Device>(site.element(e));
    if (device->kind == site::DeviceKind::contactor) continue;
    if (device->isolates == true && device->lockable == true)
      return {
          holds(subject),
          asks(site.about(e), fmt::format("can the distributor reach and lock '{}'", site.name(e)),
               "at any time, without entering locked rooms")};
    const bool may_fit = device->isolates != false && device->lockable != false;
    if (may_fit) asked.push_back(e);
    unfit = unfit || !may_fit;
  }
  if (!asked.empty() || !unfit)
    return {
        open(subject, "whether the distributor can lock the sources off",
             asked.empty()
                 ? fmt::format("a device 'isolating lockable' between the supply and {}",
                               check::quoted(site, parallel.sources))
                 : fmt::format("'isolating' and 'lockable' of {}", check::quoted(site, asked)))};
  return {broken(subject,
                 fmt::format("no one lockable isolator parts {} from the supply",
                             check::quoted(site, parallel.sources)),
                 "fit one at the origin, between the supply and all sources")};
}

}  // namespace

extern const check::Rule distributor_access{
    .id = "transfer/distributor-access",
    .severity = Severity::breach,
    .must_hold =
        "One lockable isolator that the distributor can reach parts all sources from the supply, "
        "or "
        "certified separation stands in its place where the country accepts it.",
    .why = "People who work on the street's cable need to know that this house cannot feed it.",
    .clauses = {"IEC 60364-5-55 551.7.6", "EREC G98, G99"},
    .confirmation = check::Confirmation::partly,
    .profile_keys = {"distributor isolator", "distributor isolator certificate up to"},
    .example = R"(# Each roof has its isolator, but the main switch cannot be locked.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
profile: GB
inverters:
  -T1: {kind: pv, power: 3.6 kVA}
  -T2: {kind: pv, power: 1 kVA}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m, {id: -Q10, device: switch-disconnector 63 A 2P isolating, lockable: no}]}
chains:
  - [-T1:ac, -W2 3×2.5 mm² 9 m, -Q2 switch-disconnector 25 A 2P isolating lockable, A1]
  - [-T2:ac, -W3 3×2.5 mm² 9 m, -Q3 switch-disconnector 25 A 2P isolating lockable, A1]
)",
    .check = check_site,
};

}  // namespace linewright::rules

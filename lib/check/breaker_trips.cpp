#include "check/breaker_trips.hpp"

#include <algorithm>
#include <vector>

#include <fmt/core.h>

#include "check/rcd_cover.hpp"
#include "network/ways.hpp"
#include "units/print.hpp"

namespace linewright::check {
namespace {

using network::Loop;
using network::StateView;

/// A value, or what is missing for it.
template <class T>
struct Known {
  std::optional<T> value;
  std::string missing;
};

std::optional<Current> rated_current(const AnalysedSite& site, std::size_t source,
                                     const std::optional<ApparentPower>& power) {
  const auto u0 = site.site.system.line_to_earth;
  const int phases = (site.element(source).conductors & site::lines).count();
  if (!u0 || !power || phases < 1) return std::nullopt;
  return power->base / (static_cast<double>(phases) * *u0);
}

/// What one source gives: stated, or for a generator the most that is possible.
struct Gives {
  std::optional<Current> stated;
  std::optional<Current> most;
  std::optional<Time> for_time;
};

Gives gives(const AnalysedSite& site, std::size_t source) {
  if (const auto* inverter = site::facts<site::Inverter>(site.element(source)))
    return {inverter->fault_current, inverter->fault_current, inverter->fault_time};
  const auto* set = site::facts<site::Generator>(site.element(source));
  if (set == nullptr) return {};
  if (set->fault_current) return {set->fault_current, set->fault_current, set->fault_time};
  const auto rated = rated_current(site, source, set->power);
  if (!rated || !set->subtransient_reactance) return {};
  const auto most = most_from_generator(*rated, *set->subtransient_reactance);
  return {std::nullopt, most ? std::optional(*most) : std::nullopt, std::nullopt};
}

/// All sources that feed the loop together.
struct Together {
  Current stated{};
  std::optional<Current> most = Current{};  ///< nothing if not all are known
  bool all_stated = true;
  std::optional<Time> longest = Time{};  ///< until the last of them stops; nothing if unknown
  std::string missing;
};

void add(const AnalysedSite& site, std::size_t source, Together& sum) {
  const Gives one = gives(site, source);
  if (one.stated)
    sum.stated += *one.stated;
  else
    sum.all_stated = false;
  if (!one.stated && sum.missing.empty())
    sum.missing = fmt::format("what '{}' drives into a fault (fault current: … A for … s)",
                              site.name(source));
  sum.most = sum.most && one.most ? std::optional(*sum.most + *one.most) : std::nullopt;
  sum.longest = sum.longest && one.for_time ? std::optional(std::max(*sum.longest, *one.for_time))
                                            : std::nullopt;
}

Together sources_of(const AnalysedSite& site, const StateView& state, const Loop& loop) {
  Together sum;
  const network::Zone* zone = state.zone_of(loop.source);
  if (zone == nullptr) {
    add(site, loop.source, sum);
    return sum;
  }
  for (const auto* list : {&zone->sources, &zone->following})
    for (const std::size_t source : *list)
      add(site, source, sum);
  return sum;
}

bool is_fuse(const site::Device& device) {
  return device.kind == site::DeviceKind::fuse || device.kind == site::DeviceKind::fuse_switch;
}

bool is_breaker(const site::Device& device) {
  return device.kind == site::DeviceKind::breaker || device.kind == site::DeviceKind::rcbo;
}

/// The device ahead of the circuit that opens at the least current. Of a fuse only what it carries
/// for ever is known: 1.25 times its rated current (IEC 60269-1 Table 2, gG).
struct Opener {
  std::size_t device = site::none;
  std::optional<Current> needed;
  std::optional<Current> carried;  ///< below this it never opens
  std::string missing;
};

Opener opener_of(const AnalysedSite& site, std::size_t element) {
  const auto& device = std::get<site::Device>(site.element(element).facts);
  Opener opener{.device = element};
  if (device.rated_current && is_breaker(device))
    opener.needed = opens_at_once(device.curve, *device.rated_current);
  if (device.rated_current && is_fuse(device)) opener.carried = 1.25 * *device.rated_current;
  if (is_fuse(device))
    opener.missing =
        device.rated_current
            ? fmt::format("at what current fuse '{}' opens in time (its maker's curve), or an RCD",
                          site.name(element))
            : fmt::format("rated current of '{}' (device)", site.name(element));
  else if (!opener.needed)
    opener.missing =
        fmt::format("curve and rated current of '{}' (device: B16 …)", site.name(element));
  return opener;
}

std::vector<Opener> openers(const AnalysedSite& site, const Loop& loop) {
  std::vector<Opener> all;
  for (const std::size_t guard : loop.line_guards) {
    const auto* device = site::facts<site::Device>(site.element(guard));
    if (device != nullptr && (is_breaker(*device) || is_fuse(*device)))
      all.push_back(opener_of(site, guard));
  }
  return all;
}

Resistivity resistivity(const site::Cable& cable) {
  using unit::ohm_mm2_per_metre;
  return (cable.material == "Al" ? 0.036 : 0.0225) * ohm_mm2_per_metre;
}

/// Line and protective conductor of every cable between source and circuit.
Known<Resistance> resistance_of(const AnalysedSite& site, const StateView& state,
                                const Loop& loop) {
  const network::SourcePoint* point = network::source_point(site.network, loop.source);
  const network::WaysFrom ways(site.network, site.site, state.positions, *point);
  const network::Passage passage = ways.lines_to(loop.load, 0);
  Resistance sum{};
  for (const auto* runs : {&passage.runs, &passage.detour_runs})
    for (const std::size_t index : *runs) {
      const site::Run& run = site.site.runs[index];
      if (!run.cable) continue;
      if (!run.cable->length || !run.cable->cross_section)
        return {std::nullopt,
                fmt::format("cross-section and length of '{}' (cable)", run.designation)};
      const Area earth = run.cable->earth_cross_section.value_or(*run.cable->cross_section);
      const auto one = loop_resistance(
          {*run.cable->length, *run.cable->cross_section, earth, resistivity(*run.cable)});
      if (!one)
        return {std::nullopt, fmt::format("cross-section of '{}' (cable)", run.designation)};
      sum += *one;
    }
  return {sum, {}};
}

/// The disconnection time wanted of the circuit in TN, by its voltage and rated current.
std::optional<Time> time_wanted(const AnalysedSite& site, const Loop& loop) {
  const auto& load = std::get<site::LoadGroup>(site.element(loop.load).facts);
  const Current final_up_to{load.use == site::Use::sockets ? 63.0 : 32.0};
  for (auto guard = loop.line_guards.rbegin(); guard != loop.line_guards.rend(); ++guard) {
    const auto* device = site::facts<site::Device>(site.element(*guard));
    if (!is_breaker(*device) && !is_fuse(*device)) continue;
    if (device->rated_current && *device->rated_current > final_up_to)
      return site.profile.time("disconnection distribution TN");
    break;
  }
  const auto u0 = site.site.system.line_to_earth;
  if (u0 && *u0 <= Voltage{120.0}) return site.profile.time("disconnection final TN to 120 V");
  if (u0 && *u0 > Voltage{230.0}) return site.profile.time("disconnection final TN above 230 V");
  return site.profile.time("disconnection final TN");
}

EarthFault undecided(EarthFault fault, std::string missing) {
  fault.ending = Ending::undecided;
  fault.missing = std::move(missing);
  return fault;
}

bool stops_in_time(const Together& sources, const EarthFault& fault) {
  return sources.longest && fault.within && *sources.longest <= *fault.within;
}

/// With everything about the sources and the cables known.
EarthFault decide(const AnalysedSite& site, const Together& sources, Resistance loop,
                  const std::vector<Opener>& devices, EarthFault fault) {
  const auto u0 = site.site.system.line_to_earth;
  if (!u0) return undecided(fault, "voltages of the site (supply: system)");
  constexpr double lowest = 0.95;  // c_min at low voltage, IEC 60909-0 Table 1
  const bool limited = loop.si <= 0.0 || lowest * *u0 / loop >= sources.stated;
  fault.given = limited ? sources.stated : lowest * *u0 / loop;
  std::string missing;
  for (const Opener& opener : devices) {
    if (opener.needed && fault.given >= *opener.needed) {
      fault.device = opener.device;
      fault.needed = *opener.needed;
      fault.ending = Ending::trips;
      return fault;
    }
    if (!opener.needed && !(opener.carried && fault.given <= *opener.carried))
      missing = opener.missing;
  }
  if (limited && stops_in_time(sources, fault)) {
    fault.ending = Ending::shuts_down;
    return fault;
  }
  if (!missing.empty()) return undecided(fault, missing);
  fault.ending = Ending::never;
  return fault;
}

/// Sets the device that opens at the least current; whether all of them need more than `most`.
bool none_can(const std::vector<Opener>& devices, Current most, EarthFault& fault) {
  bool none = true;
  for (const Opener& opener : devices) {
    if (opener.needed && (fault.device == site::none || *opener.needed < fault.needed)) {
      fault.device = opener.device;
      fault.needed = *opener.needed;
    }
    if (opener.needed)
      none = none && most < *opener.needed;
    else
      none = none && opener.carried && most <= *opener.carried;
  }
  return none;
}

}  // namespace

std::optional<Current> opens_at_once(const std::string& curve, Current rated) {
  if (curve == "B") return 5.0 * rated;
  if (curve == "C") return 10.0 * rated;
  if (curve == "D") return 20.0 * rated;
  return std::nullopt;
}

Result<Current> most_from_generator(Current rated, double subtransient_reactance) {
  if (!(subtransient_reactance > 0.0)) return fail("the reactance is not above zero");
  return (1.5 / subtransient_reactance) * rated;
}

Result<Resistance> loop_resistance(const LoopCable& cable) {
  if (!(cable.length.si >= 0.0)) return fail("the length is below zero");
  if (!(cable.line.si > 0.0) || !(cable.earth.si > 0.0))
    return fail("a cross-section is not above zero");
  return cable.copper * cable.length / cable.line + cable.copper * cable.length / cable.earth;
}

EarthFault earth_fault(const AnalysedSite& site, const StateView& state, const Loop& loop) {
  EarthFault fault;
  fault.within = time_wanted(site, loop);
  const std::vector<Opener> devices = openers(site, loop);
  const Together sources = sources_of(site, state, loop);
  const bool none = sources.most && none_can(devices, *sources.most, fault);
  if (none && !stops_in_time(sources, fault)) {
    fault.given = *sources.most;
    fault.ending = Ending::never;
    return fault;
  }
  if (!sources.all_stated) return undecided(fault, sources.missing);
  const Known<Resistance> loop_of_cables = resistance_of(site, state, loop);
  if (!loop_of_cables.value) return undecided(fault, loop_of_cables.missing);
  return decide(site, sources, *loop_of_cables.value, devices, fault);
}

bool supply_feeds(const AnalysedSite& site, const StateView& state, const Loop& loop) {
  const auto is_supply = [&](std::size_t source) {
    return site::facts<site::Supply>(site.element(source)) != nullptr;
  };
  const network::Zone* zone = state.zone_of(loop.source);
  return is_supply(loop.source) ||
         (zone != nullptr && std::ranges::any_of(zone->sources, is_supply));
}

}  // namespace linewright::check

// A neutral-earth link carries the earth-fault current of every source that can feed it.
//
// Speaks of links made on site in the states in which a local source feeds them while the supply's
// neutral is open: cross-section, kind of contact, and what the contact carries for a short time.
// Links inside inverters and generators are their makers'; the split of a PEN is the supplier's.
// Fault currents are those that the file declares for inverters, and S / (√3 U) / x"d for a
// generator; for how long they flow needs the devices' curves, which are not worked out yet. The
// link's conductor is taken to be of the same material as the source's cable.
#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include <fmt/core.h>

#include "check/naming.hpp"
#include "check/rule.hpp"
#include "network/ways.hpp"
#include "units/print.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;

/// The smallest protective conductor for a line conductor, S up to 16 mm², 16 mm² up to 35 mm²,
/// else half. Source: IEC 60364-5-54 Table 54.2 (from memory).
Area protective_for(Area line) {
  const double mm2 = line.in(unit::mm2);
  if (mm2 <= 16.0) return line;
  if (mm2 <= 35.0) return 16.0 * unit::mm2;
  return 0.5 * line;
}

/// Greatest current into a dead short at a generator's terminals: S / (√3 U) / x"d, single phase
/// S / U0 / x"d. Source: IEC 60909-0 for the three-phase fault; the factor of voltage and the
/// zero-sequence reactance are left out.
std::optional<Current> short_current(const site::Generator& set, int phases,
                                     const site::System& system) {
  if (!set.power || !set.subtransient_reactance) return std::nullopt;
  const auto u0 = system.line_to_earth;
  if (!u0 || !(u0->si > 0.0)) return std::nullopt;
  const double rated = set.power->in(unit::volt_ampere) / (phases * u0->si);
  return Current{rated / *set.subtransient_reactance};
}

int lines_at(const AnalysedSite& site, std::size_t element) {
  return (site.element(element).conductors & site::lines).count();
}

/// What a source drives into an earth fault, or the value that is missing.
struct Drives {
  std::optional<Current> current;
  std::string missing;
};

Drives driven_by(const AnalysedSite& site, std::size_t source) {
  const std::string name = check::quoted(site, source);
  if (const auto* inverter = site::facts<site::Inverter>(site.element(source)))
    return {inverter->fault_current, fmt::format("'fault current' of {}", name)};
  if (const auto* set = site::facts<site::Generator>(site.element(source)))
    return {short_current(*set, std::max(1, lines_at(site, source)), site.site.system),
            fmt::format("'power' and 'reactance' of {}, voltage of the 'system'", name)};
  return {std::nullopt, {}};
}

/// The local sources that feed a link while no supply does, each once.
std::vector<std::size_t> feeders(const AnalysedSite& site, std::size_t link) {
  std::vector<std::size_t> all;
  for (const network::StateView& state : site.states)
    for (const network::Zone& zone : state.zones) {
      const bool here = !zone.supply_neutral &&
                        std::ranges::any_of(zone.bonds, [&](const network::BondPoint& bond) {
                          return bond.element == link;
                        });
      if (!here) continue;
      for (const std::size_t source : zone.sources)
        if (std::ranges::count(all, source) == 0) all.push_back(source);
    }
  return all;
}

/// The line conductor of the cable that leaves a source, or none.
std::optional<Area> cable_of(const AnalysedSite& site, std::size_t source) {
  const network::SourcePoint* point = network::source_point(site.network, source);
  for (const site::Run& run : site.site.runs)
    for (const site::Terminal& end : {run.from, run.to})
      if (end.element == source && end.terminal == point->terminal && run.cable &&
          !(run.conductors & site::lines).empty())
        return run.cable->cross_section;
  return std::nullopt;
}

Verdict judge_size(const AnalysedSite& site, std::size_t element, const site::Bond& link,
                   const std::vector<std::size_t>& sources) {
  const Subject where = site.about(element);
  const std::string& name = site.name(element);
  Area needed;
  std::size_t largest = site::none;
  for (const std::size_t source : sources) {
    const std::optional<Area> line = cable_of(site, source);
    if (!line)
      return open(where, fmt::format("what cross-section '{}' must have", name),
                  fmt::format("cross-section of the cable at {}", check::quoted(site, source)));
    if (protective_for(*line) <= needed) continue;
    needed = protective_for(*line);
    largest = source;
  }
  if (!link.cross_section)
    return open(where, fmt::format("whether '{}' is as large as {}", name, needed),
                fmt::format("'size' of '{}'", name));
  if (link.cross_section->si >= needed.si * (1.0 - 1e-9)) return holds(where);
  Verdict verdict = broken(
      where, fmt::format("'{}' is {}, must be {} or more", name, *link.cross_section, needed),
      fmt::format("wire '{}' with {}, as the protective conductor of its largest source", name,
                  needed));
  verdict.notes.push_back(
      {site.element(largest).where, fmt::format("{} feeds it", check::quoted(site, largest))});
  return verdict;
}

Verdict judge_contact(const AnalysedSite& site, std::size_t element, const site::Bond& link,
                      const std::vector<std::size_t>& sources) {
  const Subject where = site.about(element);
  const std::string& name = site.name(element);
  if (link.power_contact == false)
    return broken(where, fmt::format("'{}' is a signal contact, the fault current burns it", name),
                  fmt::format("let it drive the coil of a power contactor, and make '{}' that "
                              "contactor's main contact",
                              name));
  if (!link.power_contact)
    return open(where, fmt::format("whether the contact of '{}' is made for power", name),
                fmt::format("'power contact' of '{}'", name));
  Current sum;
  for (const std::size_t source : sources) {
    const Drives drives = driven_by(site, source);
    if (!drives.current)
      return open(where, fmt::format("what earth-fault current '{}' must carry", name),
                  drives.missing);
    sum += *drives.current;
  }
  if (!link.withstand)
    return open(where, fmt::format("whether '{}' carries {}", name, sum),
                fmt::format("'withstands' of '{}' (current for time)", name));
  if (link.withstand->si >= sum.si * (1.0 - 1e-9)) return holds(where);
  return broken(where,
                fmt::format("'{}' withstands {}, must be {} or more", name, *link.withstand, sum),
                fmt::format("fit a contactor as '{}' that carries the fault current of all its "
                            "sources together",
                            name));
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (std::size_t e = 0; e < site.site.elements.size(); ++e) {
    const auto* link = site::facts<site::Bond>(site.element(e));
    if (link == nullptr) continue;
    const std::vector<std::size_t> sources = feeders(site, e);
    if (sources.empty()) {
      verdicts.push_back(not_relevant(site.about(e)));
      continue;
    }
    verdicts.push_back(judge_size(site, e, *link, sources));
    if (link->contact) verdicts.push_back(judge_contact(site, e, *link, sources));
  }
  return verdicts;
}

}  // namespace

extern const check::Rule bond_conductor_size{
    .id = "earthing/bond-conductor-size",
    .severity = Severity::breach,
    .must_hold =
        "A neutral-earth link and its contact carry the earth-fault current of all sources that "
        "can feed them, in a conductor no smaller than their protective conductor.",
    .why =
        "The link carries the whole earth-fault current; a thin wire or a signal contact burns "
        "open or welds at the first fault.",
    .clauses = {"IEC 60364-5-54 543.1"},
    .confirmation = check::Confirmation::memory,
    .profile_keys = {},
    .example = R"(# The link is wired with 1.5 mm² beside a source on 6 mm².
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing:
  electrodes: {-XE1: 20 ohm}
  links:
    -X5: {at: A3, contact: yes, rest: open, closed in: [island], proved by: [-T1], size: 1.5 mm²,
          power contact: yes, withstands: 1 kA for 1 s}
inverters:
  -T1: {kind: hybrid, backup side: yes, neutral in island: opened, bond: none, fault current: 44 A for 0.2 s}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 5 m]}
  +A3: {feed: [-T1:backup, -W3 3×6 mm² 3 m]}
chains:
  - [A1, -W2 3×6 mm² 3 m, -T1:ac]
states:
  grid: {}
  island: {running: [-T1]}
)",
    .check = check_site,
};

}  // namespace linewright::rules

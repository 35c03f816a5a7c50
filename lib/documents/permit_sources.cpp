// The lines on sources and on what protects.
#include <algorithm>

#include <fmt/core.h>

#include "documents/permit_parts.hpp"
#include "documents/state_words.hpp"
#include "units/print.hpp"

namespace linewright::documents {
namespace {

using site::Device;
using site::DeviceKind;
using site::Element;
using site::none;
using site::Site;

template <class Q>
std::string shown(const std::optional<Q>& quantity) {
  return quantity ? print(*quantity) : std::string();
}

std::string phases_word(const Element& element) {
  const int lines = (element.conductors & site::lines).count();
  if (lines >= 3) return "three-phase";
  return lines == 1 ? "single-phase" : "";
}

template <class T, class Words>
std::vector<Said> of_each(const Site& site, Words words) {
  std::vector<Said> all;
  for (const std::size_t e : elements_with<T>(site)) {
    const Element& element = site.elements[e];
    if (std::string said = words(element, *site::facts<T>(element)); !said.empty())
      all.push_back({element.designation, std::move(said)});
  }
  return alike(all);
}

/// What hangs on the DC side of an inverter.
struct DcSide {
  std::vector<std::string> pv;
  std::vector<std::string> batteries;
};

// By the number of the inverter's element.
std::vector<DcSide> dc_sides(const Site& site) {
  std::vector<DcSide> sides(site.elements.size());
  const std::vector<DcWay> ways = dc_ways(site);
  for (std::size_t e = 0; e < ways.size(); ++e) {
    if (ways[e].inverter == none) continue;
    DcSide& side = sides[ways[e].inverter];
    const bool pv = site::facts<site::PvArray>(site.elements[e]) != nullptr;
    (pv ? side.pv : side.batteries).push_back(site.elements[e].designation);
  }
  return sides;
}

std::string inverter_kind(const DcSide& side) {
  if (!side.pv.empty() && !side.batteries.empty()) return "hybrid inverter";
  if (!side.pv.empty()) return "PV inverter";
  return side.batteries.empty() ? "inverter" : "battery inverter";
}

std::string coupling_words(const DcSide& side) {
  if (side.pv.empty() && side.batteries.empty()) return {};
  const std::string words = listed(
      {side.pv.empty() ? "" : "PV " + listed(side.pv) + " gives",
       side.batteries.empty() ? "" : "battery " + listed(side.batteries) + " takes and gives"});
  const bool both = !side.pv.empty() && !side.batteries.empty();
  return words + (both ? " (coupled on the DC side)" : " (coupled on the AC side)");
}

std::string pv_words(const site::PvArray& array) {
  std::string strings;
  if (array.strings && array.modules_per_string)
    strings = fmt::format("{} × {} modules", *array.strings, *array.modules_per_string);
  return listed({strings, array.power ? print(*array.power) + "p" : "", array.model});
}

std::string battery_words(const site::Battery& battery) {
  std::string voltage = shown(battery.nominal_voltage);
  if (battery.voltage_min && battery.voltage_max)
    voltage = fmt::format("{} to {}", print(*battery.voltage_min), print(*battery.voltage_max));
  return listed({battery.chemistry, shown(battery.energy), voltage,
                 battery.units ? fmt::format("units: {}", *battery.units) : "", battery.model});
}

std::string parallel_words(site::ParallelRun run) {
  switch (run) {
    case site::ParallelRun::never:
      return "never runs in parallel with the supply.";
    case site::ParallelRun::short_transfer:
      return "runs in parallel with the supply only while it takes over.";
    case site::ParallelRun::as_agreed:
      return "runs in parallel with the supply as agreed with the distributor.";
  }
  return {};
}

template <class Q>
std::string trip_words(std::string_view what, const site::TripSetting<Q>& setting) {
  if (!setting.at) return {};
  return fmt::format("{} {}{}", what, print(*setting.at),
                     setting.within ? " " + print(*setting.within) : "");
}

std::string settings_words(const site::InterfaceProtection& protection) {
  return listed(
      {trip_words("U<", protection.undervoltage), trip_words("U>", protection.overvoltage),
       trip_words("f<", protection.underfrequency), trip_words("f>", protection.overfrequency),
       protection.reconnects_after ? "reconnects after " + print(*protection.reconnects_after)
                                   : ""});
}

std::string islanding_words(const site::InterfaceProtection& protection) {
  if (!protection.island_detection && protection.island_method.empty()) return {};
  std::string words = "detects an island";
  if (protection.island_detection) words += " in " + print(*protection.island_detection);
  if (!protection.island_method.empty()) words += " by " + protection.island_method;
  return words;
}

std::string breaking_word(const Device& device) {
  const bool breaker = device.kind == DeviceKind::breaker || device.kind == DeviceKind::rcbo;
  return breaker && device.breaking_capacity ? print(*device.breaking_capacity) : "";
}

// "6 kA: all breakers", or the few that differ by name and the rest as all others.
std::string breaking_words(const Site& site) {
  std::vector<std::vector<std::string>> members;
  std::vector<std::string> values;
  for (const std::size_t e : elements_with<Device>(site)) {
    const std::string value = breaking_word(*site::facts<Device>(site.elements[e]));
    if (value.empty()) continue;
    const auto at = std::ranges::find(values, value) - values.begin();
    if (at == static_cast<std::ptrdiff_t>(values.size())) {
      values.push_back(value);
      members.emplace_back();
    }
    members[static_cast<std::size_t>(at)].push_back(site.elements[e].designation);
  }
  if (values.empty()) return {};
  std::size_t most = 0;
  for (std::size_t i = 1; i < members.size(); ++i)
    if (members[i].size() > members[most].size()) most = i;
  std::string words;
  for (std::size_t i = 0; i < values.size(); ++i)
    if (i != most) words += fmt::format("{} of {}; ", values[i], listed(members[i]));
  return fmt::format("Breaking capacity: {}{} of all {}", words, values[most],
                     values.size() == 1 ? "breakers" : "others");
}

std::string_view timing_words(site::NeutralTiming timing) {
  switch (timing) {
    case site::NeutralTiming::simultaneous:
      return "with the line poles";
    case site::NeutralTiming::early_make_late_break:
      return "makes first and breaks last";
    case site::NeutralTiming::separate:
      return "apart from the line poles";
  }
  return "";
}

void add_neutral_poles(const PermitFacts& facts, PermitLines& to) {
  std::vector<Said> all;
  for (const std::size_t e : moving_with_neutral(facts)) {
    const auto& device = *site::facts<Device>(facts.site.elements[e]);
    if (device.neutral_timing)
      all.push_back(
          {facts.site.elements[e].designation, std::string(timing_words(*device.neutral_timing))});
  }
  for (const Said& said : alike(all))
    to.add({43}, fmt::format("Neutral pole of {}: {}", said.designation, said.words));
}

void add_island_switches(const PermitFacts& facts, PermitLines& to) {
  std::vector<Said> all;
  for (const IslandSwitch& each : island_switches(facts)) {
    const Element& element = facts.site.elements[each.element];
    if (const auto* inverter = site::facts<site::Inverter>(element)) {
      if (inverter->island_neutral)
        all.push_back(
            {element.designation, *inverter->island_neutral == site::IslandNeutral::opened
                                      ? "inner contact opens lines and neutral"
                                      : "inner contact opens the lines, the neutral stays joined"});
    } else if (const auto* device = site::facts<Device>(element); device && device->poles) {
      all.push_back({element.designation, "opens, " + device->poles->written});
    }
  }
  for (const Said& said : alike(all))
    to.add({42},
           fmt::format("Parts the island from the supply: {}, {}", said.designation, said.words));
}

std::string disconnection_words(const PermitFacts& facts) {
  if (facts.states.empty() || elements_with<site::LoadGroup>(facts.site).empty()) return {};
  if (!disconnection_findings(facts.report).empty() || !disconnection_open(facts.report).empty())
    return {};
  std::string states;
  for (const network::StateView& view : facts.states)
    states += (states.empty() ? "" : ", ") + view.name();
  return fmt::format(
      "Disconnection of earth faults was checked in every state ({}): no finding, "
      "nothing left open.",
      states);
}

bool proves_disconnection(const std::string& rule) {
  constexpr std::array<std::string_view, 4> rules{
      "earthing/one-neutral-bond-per-state", "rcd/between-source-and-load-in-every-state",
      "rcd/fault-protection-when-breakers-cannot-trip", "rcd/tt-resistance-product"};
  return std::ranges::find(rules, rule) != rules.end();
}

template <class Each>
std::vector<const Each*> of_disconnection(const std::vector<Each>& all) {
  std::vector<const Each*> found;
  for (const Each& each : all)
    if (proves_disconnection(each.rule)) found.push_back(&each);
  return found;
}

std::string fault_words(const Element& element) {
  if (const auto* inverter = site::facts<site::Inverter>(element))
    return inverter->fault_current
               ? print(*inverter->fault_current) +
                     (inverter->fault_time ? " for " + print(*inverter->fault_time) : "")
               : "";
  if (const auto* generator = site::facts<site::Generator>(element)) {
    if (generator->fault_current)
      return print(*generator->fault_current) +
             (generator->fault_time ? " for " + print(*generator->fault_time) : "");
    return generator->subtransient_reactance
               ? "X\"d " + print_number(*generator->subtransient_reactance)
               : "";
  }
  const auto* supply = site::facts<site::Supply>(element);
  if (supply == nullptr || !supply->fault_current_max) return {};
  return supply->fault_current_min ? fmt::format("{} to {}", print(*supply->fault_current_min),
                                                 print(*supply->fault_current_max))
                                   : print(*supply->fault_current_max);
}

}  // namespace

std::vector<DcWay> dc_ways(const Site& site) {
  std::vector<std::size_t> next(site.elements.size(), none);
  for (const site::Run& run : site.runs)
    if (next[run.from.element] == none) next[run.from.element] = run.to.element;
  std::vector<DcWay> ways(site.elements.size());
  for (std::size_t e = 0; e < site.elements.size(); ++e) {
    const Element& store = site.elements[e];
    if (site::facts<site::PvArray>(store) == nullptr &&
        site::facts<site::Battery>(store) == nullptr)
      continue;
    for (std::size_t at = next[e], steps = 0; at != none && steps < next.size(); ++steps) {
      if (site::facts<site::Inverter>(site.elements[at]) != nullptr) {
        ways[e].inverter = at;
        break;
      }
      if (site::facts<Device>(site.elements[at]) != nullptr) ways[e].devices.push_back(at);
      at = next[at];
    }
  }
  return ways;
}

std::vector<const Finding*> disconnection_findings(const Report& report) {
  return of_disconnection(report.findings);
}

std::vector<const OpenPoint*> disconnection_open(const Report& report) {
  return of_disconnection(report.open);
}

std::vector<PermitLine> source_lines(const PermitFacts& facts) {
  const Site& site = facts.site;
  PermitLines to(PermitSubject::sources);
  const std::vector<DcSide> sides = dc_sides(site);
  std::vector<Said> faults;
  for (const Element& element : site.elements)
    if (std::string words = fault_words(element); !words.empty())
      faults.push_back({element.designation, std::move(words)});
  for (const Said& said : alike(faults))
    to.add({23}, fmt::format("Short-circuit current of {}: {}", said.designation, said.words));
  for (const Said& said :
       of_each<site::Inverter>(site, [&](const Element& element, const site::Inverter& inverter) {
         return listed(
             {inverter_kind(sides[static_cast<std::size_t>(&element - site.elements.data())]),
              phases_word(element), shown(inverter.power), inverter.model});
       }))
    to.add({25, 26}, said.designation + ": " + said.words);
  for (const Said& said : of_each<site::PvArray>(
           site, [](const Element&, const site::PvArray& array) { return pv_words(array); }))
    to.add({29}, said.designation + ": " + said.words);
  for (const Said& said :
       of_each<site::Inverter>(site, [](const Element&, const site::Inverter& inverter) {
         if (!inverter.dc_earthing) return std::string();
         return std::string(*inverter.dc_earthing == site::DcEarthing::earthed ? "earthed"
                                                                               : "floating");
       }))
    to.add({32}, fmt::format("DC side of {}: {}", said.designation, said.words));
  for (const Said& said : of_each<site::Battery>(
           site,
           [](const Element&, const site::Battery& battery) { return battery_words(battery); }))
    to.add({33}, said.designation + ": " + said.words);
  for (const Said& said :
       of_each<site::Generator>(site, [&](const Element& element, const site::Generator& set) {
         return listed({shown(set.power), phases_word(element), set.excitation, set.model});
       }))
    to.add({36}, said.designation + ": " + said.words);
  for (const Said& said :
       of_each<site::Generator>(site, [](const Element&, const site::Generator& set) {
         return set.parallel ? parallel_words(*set.parallel) : std::string();
       }))
    to.add({37}, said.designation + " " + said.words);
  for (const std::size_t e : elements_with<site::Inverter>(site))
    to.add({38}, site.elements[e].designation + ": ", coupling_words(sides[e]));
  return to.lines;
}

std::vector<PermitLine> protection_lines(const PermitFacts& facts) {
  const Site& site = facts.site;
  PermitLines to(PermitSubject::protection);
  const auto of_protection = [&](auto words) {
    return of_each<site::Inverter>(site, [&](const Element&, const site::Inverter& inverter) {
      return inverter.protection ? words(*inverter.protection) : std::string();
    });
  };
  for (const Said& said :
       of_protection([](const site::InterfaceProtection& one) { return one.certificate; }))
    to.add({28, 55}, fmt::format("Type test of {}: {}", said.designation, said.words));
  add_island_switches(facts, to);
  add_neutral_poles(facts, to);
  to.add({52}, breaking_words(site));
  for (const Said& said : of_protection(settings_words))
    to.add({54}, fmt::format("Interface protection of {}: {}", said.designation, said.words));
  for (const Said& said : of_protection(islanding_words))
    to.add({55}, said.designation + " " + said.words);
  to.add({60}, disconnection_words(facts));
  return to.lines;
}

}  // namespace linewright::documents

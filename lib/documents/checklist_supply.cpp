// Items on supply and earthing, wiring and metering.
#include <algorithm>
#include <array>

#include <fmt/core.h>

#include "documents/checklist_parts.hpp"
#include "documents/state_words.hpp"
#include "units/print.hpp"

namespace linewright::documents {
namespace {

using site::Device;
using site::Element;
using site::none;
using site::Site;

// The designation of the public supply; empty after saying that there is none.
std::string supply_name(const Ask& ask, Judgement& judgement) {
  const auto supplies = elements_with<site::Supply>(ask.site());
  if (!supplies.empty()) return ask.site().elements[supplies.front()].designation;
  judgement.not_here("no public supply");
  return {};
}

void boundary(const Ask& ask, Judgement& judgement) {
  const std::string supply = supply_name(ask, judgement);
  if (supply.empty()) return;
  judgement.look_for_element(ask, supply);
  const std::string& at = ask.site().permit.ownership_boundary;
  if (!at.empty()) judgement.look_for_element(ask, at, {"ownership boundary"});
  by_lines(ask, judgement);
}

void system(const Ask& ask, Judgement& judgement) {
  const std::string supply = supply_name(ask, judgement);
  if (supply.empty()) return;
  const site::System& what = ask.site().system;
  if (!what.line_to_earth || !what.frequency) judgement.lacks(ask);
  judgement.look_for_element(ask, supply, {what.written});
}

void supply_fuse(const Ask& ask, Judgement& judgement) {
  const std::string name = supply_name(ask, judgement);
  if (name.empty()) return;
  const site::Supply& supply = *supply_of(ask.site());
  if (!supply.service_fuse) return judgement.lacks(ask);
  for (const Element& element : ask.site().elements) {
    const auto* device = site::facts<Device>(element);
    if (device != nullptr && device->kind == site::DeviceKind::fuse &&
        device->rated_current == supply.service_fuse && element.assembly == none)
      return judgement.look_for_element(ask, element.designation, {print(*supply.service_fuse)});
  }
  judgement.look_for_element(ask, name, {print(*supply.service_fuse)});
}

void supply_line(const Ask& ask, Judgement& judgement) {
  if (!supply_name(ask, judgement).empty()) by_lines(ask, judgement);
}

void main_switch_item(const Ask& ask, Judgement& judgement) {
  if (supply_name(ask, judgement).empty()) return;
  const std::size_t at = main_switch(ask.site());
  if (at == none) return judgement.lacks(ask);
  const Element& element = ask.site().elements[at];
  const auto& device = *site::facts<Device>(element);
  if (!device.rated_current || !device.poles)
    return judgement.lacks(element.designation, "rating and poles",
                           element.designation + " switch-disconnector 63 A 4P");
  judgement.look_for_element(ask, element.designation, {device.poles->written});
  judgement.look_for_lines(ask);
}

void grid_earthing(const Ask& ask, Judgement& judgement) {
  const std::string name = supply_name(ask, judgement);
  if (name.empty()) return;
  const site::Supply& supply = *supply_of(ask.site());
  if (!supply.earthing) return judgement.lacks(ask);
  judgement.look_for_element(ask, name, {std::string(site::mark(*supply.earthing))});
}

void other_earthing(const Ask& ask, Judgement& judgement) {
  const bool alone = view_of(ask.facts, site::StateKind::island) == nullptr &&
                     view_of(ask.facts, site::StateKind::generator) == nullptr;
  if (alone && elements_with<site::Generator>(ask.site()).empty())
    return judgement.not_here("runs on the grid only");
  if (alone) return judgement.lacks(ask);
  by_lines(ask, judgement);
  for (const PermitLine& line : ask.lines)
    if (std::ranges::find(line.items, 19) != line.items.end() &&
        line.words.find('?') != std::string::npos)
      judgement.lacks("", "earthing", "earthing: TT under 'supply', bond: none at the inverter");
}

// Joints made on site, and those inside machines.
void joints(const Ask& ask, Judgement& judgement) {
  const Site& site = ask.site();
  for (const Element& element : site.elements) {
    if (site::facts<site::Bond>(element) != nullptr ||
        site::facts<site::PenSplit>(element) != nullptr)
      judgement.look_for_element(ask, element.designation);
    if (const auto* generator = site::facts<site::Generator>(element)) {
      if (!generator->neutral)
        judgement.lacks(element.designation, "generators: neutral", "neutral: floating");
      else
        judgement.look_for_element(
            ask, element.designation,
            {*generator->neutral == site::NeutralLink::fixed ? "neutral linked"
                                                             : "neutral floating"});
    }
    const auto* inverter = site::facts<site::Inverter>(element);
    if (inverter != nullptr && inverter->forming != site::Forming::grid_following &&
        !inverter->bond)
      judgement.lacks(element.designation, "inverters: bond", "bond: closes in island");
  }
  if (judgement.answer.places.empty() && judgement.answer.gaps.empty())
    judgement.look_for(ask, "earth bond", "notes");
}

void electrodes(const Ask& ask, Judgement& judgement) {
  const auto all = elements_with<site::Electrode>(ask.site());
  if (all.empty()) {
    const site::Supply* supply = supply_of(ask.site());
    if (supply != nullptr && supply->earth_offered)
      return judgement.not_here("the earth comes with the supply");
    return judgement.lacks(ask);
  }
  for (const std::size_t e : all) {
    const Element& element = ask.site().elements[e];
    const auto& electrode = *site::facts<site::Electrode>(element);
    if (!electrode.resistance || electrode.type.empty())
      judgement.lacks(ask, element.designation);
    else
      judgement.look_for_element(ask, element.designation, {print(*electrode.resistance)});
  }
  judgement.look_for_lines(ask);
}

void earthing_terminal(const Ask& ask, Judgement& judgement) {
  for (const std::size_t e : elements_with<site::MainEarthingTerminal>(ask.site())) {
    const Element& element = ask.site().elements[e];
    const auto& terminal = *site::facts<site::MainEarthingTerminal>(element);
    judgement.look_for_element(ask, element.designation);
    if (!terminal.earthing_conductor)
      judgement.lacks("", "earthing: conductor", "conductor: 16 mm²");
    if (terminal.bonding.empty()) judgement.lacks(ask);
    for (const site::BondingConductor& each : terminal.bonding)
      if (!each.cross_section) judgement.lacks(each.to, "earthing: bonding", each.to + ": 10 mm²");
  }
  judgement.look_for_lines(ask);
}

void fault_currents(const Ask& ask, Judgement& judgement) {
  for (const Element& element : ask.site().elements) {
    const auto* inverter = site::facts<site::Inverter>(element);
    const auto* generator = site::facts<site::Generator>(element);
    const auto* supply = site::facts<site::Supply>(element);
    if (supply != nullptr && !supply->fault_current_max) judgement.lacks(ask, element.designation);
    if (inverter != nullptr && inverter->forming != site::Forming::grid_following &&
        !inverter->fault_current)
      judgement.lacks(element.designation, "inverters: fault current",
                      "fault current: 30 A for 0.1 s");
    if (generator != nullptr && !generator->fault_current && !generator->subtransient_reactance)
      judgement.lacks(element.designation, "generators: fault current",
                      "fault current: 90 A for 5 s");
  }
  judgement.look_for_lines(ask);
}

void cables(const Ask& ask, Judgement& judgement) {
  bool any = false;
  for (const site::Run& run : ask.site().runs) {
    if (!run.cable) continue;
    any = true;
    const bool only_earth = (run.conductors - site::earths).empty();
    if (!run.cable->cross_section || (!run.cable->length && !only_earth))
      judgement.lacks(ask, run.designation);
    else
      judgement.look_for_element(ask, run.designation);
  }
  if (!any) judgement.lacks(ask);
}

void boards(const Ask& ask, Judgement& judgement) {
  bool any = false;
  for (const site::Assembly& assembly : ask.site().assemblies) {
    if (assembly.kind != site::Assembly::Kind::board) continue;
    any = true;
    judgement.look_for_element(ask, assembly.designation);
  }
  for (const std::size_t e : elements_with<site::LoadGroup>(ask.site()))
    judgement.look_for_element(ask, ask.site().elements[e].designation);
  if (!any) judgement.lacks(ask);
}

void meters(const Ask& ask, Judgement& judgement) {
  const auto all = elements_with<site::Meter>(ask.site());
  if (all.empty()) return judgement.lacks(ask);
  for (const std::size_t e : all) {
    const Element& element = ask.site().elements[e];
    const bool two_way = site::facts<site::Meter>(element)->two_way;
    judgement.look_for_element(ask, element.designation, {two_way ? "two-way meter" : "meter"});
  }
}

void transformers(const Ask& ask, Judgement& judgement) {
  if (!judgement.look_for_lines(ask)) judgement.not_here("the file names no current transformers");
}

void signals(const Ask& ask, Judgement& judgement) {
  const bool talks = !elements_with<site::Inverter>(ask.site()).empty() ||
                     !elements_with<site::Generator>(ask.site()).empty();
  if (ask.site().signals.empty() && !talks)
    return judgement.not_here("nothing that is controlled from elsewhere");
  by_lines(ask, judgement);
}

constexpr std::array<JudgeOf, 17> judges{{{13, boundary},
                                          {14, system},
                                          {15, supply_fuse},
                                          {16, supply_line},
                                          {17, main_switch_item},
                                          {18, grid_earthing},
                                          {19, other_earthing},
                                          {20, joints},
                                          {21, electrodes},
                                          {22, earthing_terminal},
                                          {23, fault_currents},
                                          {61, cables},
                                          {64, boards},
                                          {65, meters},
                                          {66, supply_line},
                                          {67, transformers},
                                          {68, signals}}};

}  // namespace

std::span<const JudgeOf> judges_of_supply() {
  return judges;
}

}  // namespace linewright::documents

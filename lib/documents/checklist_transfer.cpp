// Items on transfer, operation and protection.
#include <algorithm>
#include <array>

#include <fmt/core.h>

#include "documents/checklist_parts.hpp"
#include "units/print.hpp"

namespace linewright::documents {
namespace {

using site::Device;
using site::DeviceKind;
using site::Element;
using site::none;
using site::Site;

bool has_island(const Ask& ask) {
  return view_of(ask.facts, site::StateKind::island) != nullptr;
}

// "C16" for a breaker, "63 A" for a switch: the rating as the diagram writes it.
std::string rating(const Device& device) {
  if (!device.rated_current) return {};
  const bool breaker = device.kind == DeviceKind::breaker || device.kind == DeviceKind::rcbo;
  return breaker && !device.curve.empty()
             ? device.curve + print_number(device.rated_current->in(unit::ampere))
             : print(*device.rated_current);
}

void changeovers(const Ask& ask, Judgement& judgement) {
  bool any = false;
  for (const std::size_t e : elements_with<Device>(ask.site())) {
    const Element& element = ask.site().elements[e];
    const auto& device = *site::facts<Device>(element);
    if (device.kind != DeviceKind::changeover) continue;
    any = true;
    if (!device.poles || !device.rated_current)
      judgement.lacks(ask, element.designation);
    else
      judgement.look_for_element(ask, element.designation, {rating(device), device.poles->written});
  }
  for (const site::Interlock& interlock : ask.site().interlocks)
    if (interlock.means == site::InterlockMeans::unknown)
      judgement.lacks("", "interlocks: by",
                      "interlocks: [{never together: [-Q1: II, -Q10], by: mechanical}]");
  if (!any) judgement.not_here("no changeover");
}

void parting(const Ask& ask, Judgement& judgement) {
  if (!has_island(ask)) return judgement.not_here("no island operation");
  for (const IslandSwitch& each : island_switches(ask.facts)) {
    const Element& element = ask.site().elements[each.element];
    judgement.look_for_element(ask, element.designation);
    const auto* inverter = site::facts<site::Inverter>(element);
    if (inverter != nullptr && !inverter->island_neutral) judgement.lacks(ask, element.designation);
    const auto* device = site::facts<Device>(element);
    if (device != nullptr && !device->poles)
      judgement.lacks(element.designation, "poles", element.designation + " contactor 63 A 4P");
  }
  by_lines(ask, judgement);
}

void neutral_sequence(const Ask& ask, Judgement& judgement) {
  const std::vector<std::size_t> all = moving_with_neutral(ask.facts);
  if (all.empty()) return judgement.not_here("no neutral pole moves between the states");
  for (const std::size_t e : all)
    if (!site::facts<Device>(ask.site().elements[e])->neutral_timing)
      judgement.lacks(ask, ask.site().elements[e].designation);
  judgement.look_for_lines(ask);
}

void bypass(const Ask& ask, Judgement& judgement) {
  if (view_of(ask.facts, site::StateKind::bypass) == nullptr)
    return judgement.not_here("no state of the kind bypass");
  by_lines(ask, judgement);
}

void services(const Ask& ask, Judgement& judgement) {
  const Site& site = ask.site();
  for (const std::size_t e : elements_with<site::LoadGroup>(site)) {
    const Element& element = site.elements[e];
    const bool told = site::facts<site::LoadGroup>(element)->service ||
                      (element.assembly != none && site.assemblies[element.assembly].service);
    if (told) continue;
    const std::string& at = element.assembly == none
                                ? element.designation
                                : site.assemblies[element.assembly].designation;
    const bool known =
        std::ranges::any_of(judgement.answer.gaps, [&](const Gap& gap) { return gap.at == at; });
    if (!known) judgement.lacks(ask, at);
  }
  if (!judgement.look_for_lines(ask) && judgement.answer.gaps.empty())
    judgement.not_here("no circuits");
}

void backup_loads(const Ask& ask, Judgement& judgement) {
  const std::vector<std::size_t> circuits = backed_up(ask.site());
  if (circuits.empty()) return judgement.not_here("no backed-up circuit");
  for (const std::size_t e : circuits)
    if (!site::facts<site::LoadGroup>(ask.site().elements[e])->power)
      judgement.lacks(ask, ask.site().elements[e].designation);
  judgement.look_for_lines(ask);
}

// The least of what the inverters give together and each generator gives alone; zero if unknown.
double least_source(const Site& site) {
  double inverters = 0.0;
  double least = 0.0;
  for (const Element& element : site.elements) {
    const auto* inverter = site::facts<site::Inverter>(element);
    if (inverter != nullptr && inverter->forming == site::Forming::grid_forming && inverter->power)
      inverters += units::to_si(*inverter->power);
    const auto* generator = site::facts<site::Generator>(element);
    if (generator == nullptr || !generator->power) continue;
    const double power = units::to_si(*generator->power);
    least = least > 0.0 ? std::min(least, power) : power;
  }
  return inverters > 0.0 && (least <= 0.0 || inverters < least) ? inverters : least;
}

// What is not shed, against the least source.
void shedding(const Ask& ask, Judgement& judgement) {
  const std::vector<std::size_t> circuits = backed_up(ask.site());
  if (circuits.empty()) return judgement.not_here("no backed-up circuit");
  double kept = 0.0;
  for (const std::size_t e : circuits) {
    const auto& load = *site::facts<site::LoadGroup>(ask.site().elements[e]);
    if (!load.power)
      judgement.lacks(ask.site().elements[e].designation, "circuits: load", "load: 0.3 kW");
    else if (!load.shed_in_island)
      kept += units::to_si(*load.power) * load.diversity.value_or(1.0);
  }
  const double source = least_source(ask.site());
  if (judgement.answer.gaps.empty() && !(kept <= source)) judgement.lacks(ask);
  judgement.look_for_lines(ask);
}

void emergency(const Ask& ask, Judgement& judgement) {
  const auto& what = ask.site().permit.emergency;
  if (what && (what->opens.empty() || what->place.empty())) judgement.lacks(ask);
  by_lines(ask, judgement);
}

void isolation(const Ask& ask, Judgement& judgement) {
  if (supply_of(ask.site()) == nullptr) return judgement.not_here("no public supply");
  const auto& what = ask.site().permit.isolation_point;
  if (!what) return judgement.lacks(ask);
  if (what->place.empty()) judgement.lacks(ask);
  const std::size_t e = ask.site().find(what->at);
  const auto* device = e == none ? nullptr : site::facts<Device>(ask.site().elements[e]);
  if (device == nullptr || device->lockable != true)
    judgement.lacks(what->at, "devices: lockable",
                    "-Q10 switch-disconnector 63 A 4P isolating lockable");
  judgement.look_for_lines(ask);
}

void export_limit(const Ask& ask, Judgement& judgement) {
  const bool feeds =
      !elements_with<site::Inverter>(ask.site()).empty() && supply_of(ask.site()) != nullptr;
  if (!feeds) return judgement.not_here("nothing that feeds into the supply");
  by_lines(ask, judgement);
}

bool is_breaker(const Device& device) {
  return device.kind == DeviceKind::breaker || device.kind == DeviceKind::rcbo;
}

void protective_devices(const Ask& ask, Judgement& judgement) {
  bool any = false;
  for (const std::size_t e : elements_with<Device>(ask.site())) {
    const Element& element = ask.site().elements[e];
    const auto& device = *site::facts<Device>(element);
    if (!site::opens_by_itself(device)) continue;
    any = true;
    const bool complete =
        device.rated_current && device.poles &&
        (!is_breaker(device) || (!device.curve.empty() && device.breaking_capacity));
    if (!complete)
      judgement.lacks(ask, element.designation);
    else
      judgement.look_for_element(ask, element.designation, {rating(device), device.poles->written});
  }
  if (!any) return judgement.lacks(ask);
  judgement.look_for_lines(ask);
}

void residual_devices(const Ask& ask, Judgement& judgement) {
  bool any = false;
  for (const std::size_t e : elements_with<Device>(ask.site())) {
    const Element& element = ask.site().elements[e];
    const auto& device = *site::facts<Device>(element);
    if (!device.residual) continue;
    any = true;
    const site::Residual& residual = *device.residual;
    if (!residual.operating_current || !residual.type || !device.poles)
      judgement.lacks(ask, element.designation);
    else
      judgement.look_for_element(ask, element.designation,
                                 {print(*residual.operating_current), device.poles->written});
  }
  if (!any) judgement.not_here("no residual-current device");
}

template <class Complete>
void of_each_inverter(const Ask& ask, Judgement& judgement, Complete complete) {
  const auto all = elements_with<site::Inverter>(ask.site());
  if (all.empty()) return judgement.not_here("no inverter");
  for (const std::size_t e : all) {
    const auto& protection = site::facts<site::Inverter>(ask.site().elements[e])->protection;
    if (!protection || !complete(*protection))
      judgement.lacks(ask, ask.site().elements[e].designation);
  }
  judgement.look_for_lines(ask);
}

void interface_settings(const Ask& ask, Judgement& judgement) {
  of_each_inverter(ask, judgement, [](const site::InterfaceProtection& one) {
    const auto whole = [](const auto& setting) { return setting.at && setting.within; };
    return whole(one.undervoltage) && whole(one.overvoltage) && whole(one.underfrequency) &&
           whole(one.overfrequency);
  });
}

void islanding(const Ask& ask, Judgement& judgement) {
  of_each_inverter(ask, judgement, [](const site::InterfaceProtection& one) {
    return one.island_detection && !one.island_method.empty() && !one.certificate.empty();
  });
}

void surge(const Ask& ask, Judgement& judgement) {
  const auto all = elements_with<site::SurgeProtector>(ask.site());
  if (all.empty()) return judgement.not_here("the file names no surge protective device");
  for (const std::size_t e : all) {
    const Element& element = ask.site().elements[e];
    const auto& protector = *site::facts<site::SurgeProtector>(element);
    if (protector.type.empty() || !protector.continuous_voltage)
      judgement.lacks(ask, element.designation);
    else
      judgement.look_for_element(ask, element.designation,
                                 {protector.type, print(*protector.continuous_voltage)});
  }
}

void disconnection(const Ask& ask, Judgement& judgement) {
  for (const OpenPoint* open : disconnection_open(ask.facts.report))
    judgement.lacks(open->element, open->missing, "");
  for (const Finding* finding : disconnection_findings(ask.facts.report))
    judgement.lacks(finding->element, "to be mended: " + finding->message, finding->remedy);
  if (!judgement.answer.gaps.empty()) return;
  if (!judgement.look_for_lines(ask)) judgement.not_here("no circuits");
}

constexpr std::array<JudgeOf, 18> judges{{{41, changeovers},
                                          {42, parting},
                                          {43, neutral_sequence},
                                          {44, bypass},
                                          {45, services},
                                          {46, backup_loads},
                                          {47, shedding},
                                          {48, by_lines},
                                          {49, export_limit},
                                          {50, emergency},
                                          {51, isolation},
                                          {52, protective_devices},
                                          {53, residual_devices},
                                          {54, interface_settings},
                                          {55, islanding},
                                          {56, surge},
                                          {59, by_lines},
                                          {60, disconnection}}};

}  // namespace

std::span<const JudgeOf> judges_of_transfer() {
  return judges;
}

}  // namespace linewright::documents

// Items on sources: inverters, PV, batteries, generators.
#include <algorithm>
#include <array>

#include <fmt/core.h>

#include "documents/checklist_parts.hpp"
#include "units/print.hpp"

namespace linewright::documents {
namespace {

using site::Device;
using site::Element;
using site::none;
using site::Site;

constexpr const char* no_inverter = "no inverter";
constexpr const char* no_pv = "no PV";
constexpr const char* no_battery = "no battery";
constexpr const char* no_generator = "no generator";

void inverters(const Ask& ask, Judgement& judgement) {
  const auto all = elements_with<site::Inverter>(ask.site());
  if (all.empty()) return judgement.not_here(no_inverter);
  for (const std::size_t e : all) {
    const Element& element = ask.site().elements[e];
    const auto& inverter = *site::facts<site::Inverter>(element);
    if (!inverter.power)
      judgement.lacks(ask, element.designation);
    else
      judgement.look_for_element(ask, element.designation, {print(*inverter.power)});
  }
  judgement.look_for_lines(ask);
}

void arrays(const Ask& ask, Judgement& judgement) {
  const auto all = elements_with<site::PvArray>(ask.site());
  if (all.empty()) return judgement.not_here(no_pv);
  for (const std::size_t e : all) {
    const Element& element = ask.site().elements[e];
    const auto& array = *site::facts<site::PvArray>(element);
    if (!array.strings || !array.modules_per_string || !array.power)
      judgement.lacks(ask, element.designation);
    else
      judgement.look_for_element(ask, element.designation,
                                 {fmt::format("{} × {}", *array.strings, *array.modules_per_string),
                                  print(*array.power) + "p"});
  }
  judgement.look_for_lines(ask);
}

void dc_side(const Ask& ask, Judgement& judgement) {
  const auto all = elements_with<site::Inverter>(ask.site());
  if (all.empty()) return judgement.not_here(no_inverter);
  for (const std::size_t e : all)
    if (!site::facts<site::Inverter>(ask.site().elements[e])->dc_earthing)
      judgement.lacks(ask, ask.site().elements[e].designation);
  judgement.look_for_lines(ask);
}

void batteries(const Ask& ask, Judgement& judgement) {
  const auto all = elements_with<site::Battery>(ask.site());
  if (all.empty()) return judgement.not_here(no_battery);
  for (const std::size_t e : all) {
    const Element& element = ask.site().elements[e];
    const auto& battery = *site::facts<site::Battery>(element);
    const bool voltage = battery.nominal_voltage || (battery.voltage_min && battery.voltage_max);
    if (battery.chemistry.empty() || !battery.energy || !voltage)
      judgement.lacks(ask, element.designation);
    else
      judgement.look_for_element(ask, element.designation, {print(*battery.energy)});
  }
  judgement.look_for_lines(ask);
}

// A device that isolates or breaks, with its rating and poles.
void at_each_store(const Ask& ask, Judgement& judgement, const std::vector<std::size_t>& stores) {
  const std::vector<DcWay> ways = dc_ways(ask.site());
  for (const std::size_t e : stores) {
    const std::vector<std::size_t>& devices = ways[e].devices;
    if (devices.empty()) judgement.lacks(ask, ask.site().elements[e].designation);
    for (const std::size_t d : devices) {
      const Element& element = ask.site().elements[d];
      const auto& device = *site::facts<Device>(element);
      if (!device.rated_current || !device.poles)
        judgement.lacks(element.designation, "rating and poles",
                        element.designation + " disconnector 25 A 2P");
      else
        judgement.look_for_element(ask, element.designation, {device.poles->written});
    }
  }
}

void battery_devices(const Ask& ask, Judgement& judgement) {
  const auto all = elements_with<site::Battery>(ask.site());
  if (all.empty()) return judgement.not_here(no_battery);
  at_each_store(ask, judgement, all);
}

void pv_isolation(const Ask& ask, Judgement& judgement) {
  const auto all = elements_with<site::PvArray>(ask.site());
  if (all.empty()) return judgement.not_here(no_pv);
  at_each_store(ask, judgement, all);
}

// Strings in parallel drive current back into a faulty one; with one string nothing does, and with
// a few a module may stand it: fuses are needed where (strings - 1) times the short-circuit current
// is above 1.35 times the greatest fuse of the module.
// Source: IEC 60364-7-712, as the rule catalogue has it; confirmed there for the form.
bool strings_need_fuses(const site::PvArray& array) {
  if (!array.strings || !array.module_short_current || !array.module_fuse_max)
    return array.strings.value_or(2) > 1;
  const double back = (*array.strings - 1) * array.module_short_current->si;
  return back > 1.35 * array.module_fuse_max->si;
}

void string_fuses(const Ask& ask, Judgement& judgement) {
  const auto all = elements_with<site::PvArray>(ask.site());
  if (all.empty()) return judgement.not_here(no_pv);
  const std::vector<DcWay> ways = dc_ways(ask.site());
  bool any = false;
  for (const std::size_t e : all) {
    const Element& element = ask.site().elements[e];
    bool fused = false;
    for (const std::size_t d : ways[e].devices) {
      if (!site::breaks_overcurrent(*site::facts<Device>(ask.site().elements[d]))) continue;
      fused = any = true;
      judgement.look_for_element(ask, ask.site().elements[d].designation);
    }
    const auto& array = *site::facts<site::PvArray>(element);
    if (fused || !strings_need_fuses(array)) continue;
    if (array.module_short_current && array.module_fuse_max && array.strings)
      judgement.lacks(ask, element.designation);
    else
      judgement.lacks(element.designation, "pv: strings, short circuit current, module fuse",
                      "strings: 2, short circuit current: 13.9 A, module fuse: 25 A");
  }
  if (!any) judgement.not_here("the modules stand what the other strings can drive back");
}

void generators(const Ask& ask, Judgement& judgement) {
  const auto all = elements_with<site::Generator>(ask.site());
  if (all.empty()) return judgement.not_here(no_generator);
  for (const std::size_t e : all) {
    const Element& element = ask.site().elements[e];
    const auto& generator = *site::facts<site::Generator>(element);
    if (generator.excitation.empty()) judgement.lacks(ask, element.designation);
    if (!generator.power)
      judgement.lacks(element.designation, "generators: power", "power: 15 kVA");
    if (!generator.subtransient_reactance && !generator.fault_current)
      judgement.lacks(element.designation, "generators: reactance", "reactance: 0.14");
    if (generator.power)
      judgement.look_for_element(ask, element.designation, {print(*generator.power)});
  }
  judgement.look_for_lines(ask);
}

void parallel_run(const Ask& ask, Judgement& judgement) {
  const auto all = elements_with<site::Generator>(ask.site());
  if (all.empty()) return judgement.not_here(no_generator);
  for (const std::size_t e : all)
    if (!site::facts<site::Generator>(ask.site().elements[e])->parallel)
      judgement.lacks(ask, ask.site().elements[e].designation);
  judgement.look_for_lines(ask);
}

void coupling(const Ask& ask, Judgement& judgement) {
  if (elements_with<site::Inverter>(ask.site()).empty()) return judgement.not_here(no_inverter);
  by_lines(ask, judgement);
}

constexpr std::array<JudgeOf, 10> judges{{{25, inverters},
                                          {29, arrays},
                                          {32, dc_side},
                                          {33, batteries},
                                          {34, battery_devices},
                                          {36, generators},
                                          {37, parallel_run},
                                          {38, coupling},
                                          {57, string_fuses},
                                          {58, pv_isolation}}};

}  // namespace

std::span<const JudgeOf> judges_of_sources() {
  return judges;
}

}  // namespace linewright::documents

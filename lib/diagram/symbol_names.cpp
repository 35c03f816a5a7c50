#include <string_view>
#include <variant>

#include "diagram/overloaded.hpp"
#include "diagram/wording.hpp"

namespace linewright::diagram {
namespace {

using site::Element;
using site::Site;

std::string_view device_word(site::DeviceKind kind) {
  switch (kind) {
    case site::DeviceKind::breaker:
      return "breaker";
    case site::DeviceKind::rcd:
      return "rcd";
    case site::DeviceKind::rcbo:
      return "rcbo";
    case site::DeviceKind::fuse:
      return "fuse";
    case site::DeviceKind::switch_disconnector:
      return "switch-disconnector";
    case site::DeviceKind::disconnector:
      return "disconnector";
    case site::DeviceKind::fuse_switch:
      return "fuse-switch";
    case site::DeviceKind::contactor:
      return "contactor";
    case site::DeviceKind::changeover:
      return "changeover";
    case site::DeviceKind::link:
      return "link";
  }
  return "device";
}

std::string device_symbol(const site::Device& device) {
  switch (device.kind) {
    case site::DeviceKind::breaker:
      return device.isolates == true ? "circuit-breaker-isolating" : "circuit-breaker";
    case site::DeviceKind::fuse_switch:
      return "fuse-switch-disconnector";
    case site::DeviceKind::changeover:
      return device.isolates == true ? "changeover-isolating" : "changeover";
    case site::DeviceKind::link:
      return "disconnector";
    default:
      return std::string(device_word(device.kind));
  }
}

std::string inverter_symbol(const Element& element, const site::Inverter& inverter) {
  const auto& ports = element.terminals;
  const auto has = [&](std::string_view port) {
    for (const std::string& name : ports)
      if (name == port) return true;
    return false;
  };
  if (has("backup")) return "hybrid-inverter-backup";
  if (inverter.hybrid || (has("pv") && has("battery"))) return "hybrid-inverter";
  return has("battery") ? "battery-inverter" : "inverter";
}

// The form is in the user's words; what says neither is drawn as the general symbol.
std::string protector_symbol(const site::SurgeProtector& protector) {
  const auto says = [&](std::string_view word) {
    return protector.form.find(word) != std::string::npos;
  };
  if (says("varistor") == says("spark gap")) return "spd";
  return says("varistor") ? "spd-varistor" : "spd-spark-gap";
}

}  // namespace

std::string symbol_name(const Site& site, std::size_t index) {
  const Element& element = site.elements.at(index);
  const bool three_phase = (element.conductors & site::lines).count() >= 3;
  return std::visit(
      Overloaded{
          [](const site::Busbar&) { return std::string(); },
          [](const site::MainEarthingTerminal&) { return std::string("main-earthing-terminal"); },
          [](const site::Supply&) { return std::string("supply-point"); },
          [&](const site::Generator&) {
            return std::string(three_phase ? "generator-three-phase" : "generator");
          },
          [&](const site::Inverter& inverter) { return inverter_symbol(element, inverter); },
          [](const site::Battery&) { return std::string("battery-stack"); },
          [](const site::PvArray&) { return std::string("pv"); },
          [](const site::Device& device) { return device_symbol(device); },
          [](const site::Bond& bond) {
            return std::string(bond.contact ? "neutral-earth-contact" : "neutral-earth-link");
          },
          [](const site::PenSplit&) { return std::string("pen-split"); },
          [](const site::Electrode&) { return std::string("earth-electrode"); },
          [](const site::Connector& connector) {
            return std::string(connector.inlet ? "inlet" : "socket");
          },
          [](const site::Meter& meter) {
            return std::string(meter.two_way ? "meter-two-way" : "meter");
          },
          [](const site::SurgeProtector& protector) { return protector_symbol(protector); },
          [](const site::Transformer&) { return std::string("transformer"); },
          [](const site::LoadGroup&) { return std::string(); }},
      element.facts);
}

std::string inner_bond_symbol(const Site& site, std::size_t index) {
  const Element& element = site.elements.at(index);
  if (const auto* generator = site::facts<site::Generator>(element))
    return generator->neutral == site::NeutralLink::fixed ? "neutral-earth-link" : "";
  const auto* inverter = site::facts<site::Inverter>(element);
  if (inverter == nullptr || !inverter->bond) return "";
  if (*inverter->bond == site::BondContact::closes_in_island) return "neutral-earth-contact";
  return *inverter->bond == site::BondContact::always_closed ? "neutral-earth-link" : "";
}

std::string kind_word(const Element& element) {
  return std::visit(
      Overloaded{
          [](const site::Busbar&) { return std::string("busbar"); },
          [](const site::MainEarthingTerminal&) { return std::string("main-earthing-terminal"); },
          [](const site::Supply&) { return std::string("supply"); },
          [](const site::Generator&) { return std::string("generator"); },
          [](const site::Inverter&) { return std::string("inverter"); },
          [](const site::Battery&) { return std::string("battery"); },
          [](const site::PvArray&) { return std::string("pv"); },
          [](const site::Device& device) { return std::string(device_word(device.kind)); },
          [](const site::Bond&) { return std::string("bond"); },
          [](const site::PenSplit&) { return std::string("pen-split"); },
          [](const site::Electrode&) { return std::string("electrode"); },
          [](const site::Connector& connector) {
            return std::string(connector.inlet ? "inlet" : "socket-outlet");
          },
          [](const site::Meter&) { return std::string("meter"); },
          [](const site::SurgeProtector&) { return std::string("spd"); },
          [](const site::Transformer&) { return std::string("transformer"); },
          [](const site::LoadGroup&) { return std::string("load"); }},
      element.facts);
}

std::string strokes_name(site::Conductors conductors) {
  const int phases = (conductors & site::lines).count();
  if ((conductors & site::direct_current).count() == 2) return "conductors-2";
  if (phases != 1 && phases != 3) return phases == 2 ? "conductors-2" : "";
  std::string name = phases == 3 ? "conductors-3" : "conductors-1";
  if (conductors.has(site::Conductor::pen)) return name + "-pen";
  if (conductors.has(site::Conductor::n)) name += "-n";
  if (conductors.has(site::Conductor::pe)) name += "-pe";
  return name == "conductors-1" || name == "conductors-1-pe" ? "" : name;
}

}  // namespace linewright::diagram

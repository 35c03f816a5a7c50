#include "diagram/wording.hpp"

#include <fmt/core.h>

#include "diagram/overloaded.hpp"
#include "units/print.hpp"

namespace linewright::diagram {
namespace {

using site::Element;
using site::none;
using site::Site;

std::string_view type_mark(site::ResidualType type) {
  switch (type) {
    case site::ResidualType::ac:
      return "AC";
    case site::ResidualType::a:
      return "A";
    case site::ResidualType::f:
      return "F";
    case site::ResidualType::b:
      return "B";
  }
  return "";
}

std::string joined(std::string left, const std::string& right, std::string_view between = " ") {
  if (left.empty()) return right;
  if (right.empty()) return left;
  return left.append(between).append(right);
}

std::string kilo_peak(ActivePower power) {
  return print(power) + "p";
}

// "C16" for a breaker, "63 A" for a switch, "63 A gG" for a fuse.
std::string rating(const site::Device& device) {
  std::string words;
  if (device.rated_current) {
    const bool breaker =
        device.kind == site::DeviceKind::breaker || device.kind == site::DeviceKind::rcbo;
    words = breaker && !device.curve.empty()
                ? device.curve + print_number(device.rated_current->in(unit::ampere))
                : joined(print(*device.rated_current), device.curve);
  }
  return words;
}

std::string poles_words(const site::Device& device) {
  return device.poles ? device.poles->written : "";
}

// "30 mA A", "300 mA B, S".
std::string residual_words(const site::Residual& residual) {
  std::string words;
  if (residual.operating_current) words = print(*residual.operating_current);
  if (residual.type) words = joined(words, std::string(type_mark(*residual.type)));
  if (residual.delay == site::ResidualDelay::selective) words = joined(words, "S", ", ");
  return words;
}

std::vector<std::string> device_lines(const site::Device& device) {
  std::vector<std::string> lines;
  const std::string rated = joined(rating(device), poles_words(device));
  if (!rated.empty()) lines.push_back(rated);
  if (device.residual) {
    if (const std::string words = residual_words(*device.residual); !words.empty())
      lines.push_back(words);
  }
  const bool rests_open = device.rest == "open" && device.kind != site::DeviceKind::contactor;
  if (rests_open) lines.emplace_back("normally open");
  if (!device.driven_by.empty()) lines.push_back("by " + device.driven_by);
  return lines;
}

// The distributor's fuse as an element of its own says all there is to say of it.
bool has_own_fuse(const Site& site, const site::Supply& supply) {
  for (const Element& element : site.elements) {
    const auto* device = site::facts<site::Device>(element);
    if (device != nullptr && device->kind == site::DeviceKind::fuse && element.assembly == none &&
        device->rated_current == supply.service_fuse)
      return true;
  }
  return false;
}

std::vector<std::string> supply_lines(const Site& site, const site::Supply& supply) {
  std::vector<std::string> lines;
  std::string system = site.system.written;
  if (supply.earthing) system = joined(system, std::string(site::mark(*supply.earthing)), ", ");
  if (!system.empty()) lines.push_back(system);
  std::string fault;
  if (supply.fault_current_min) fault = print(*supply.fault_current_min);
  if (supply.fault_current_max) fault = joined(fault, print(*supply.fault_current_max), " to ");
  if (!fault.empty()) fault = "Ik " + fault;
  if (supply.external_loop) fault = joined(fault, "Ze " + print(*supply.external_loop), ", ");
  if (!fault.empty()) lines.push_back(fault);
  if (supply.service_fuse && !has_own_fuse(site, supply))
    lines.push_back("cut-out fuse " +
                    joined(print(*supply.service_fuse), supply.service_fuse_curve));
  return lines;
}

std::vector<std::string> generator_lines(const site::Generator& generator) {
  std::vector<std::string> lines;
  if (generator.power) lines.push_back(print(*generator.power));
  if (generator.subtransient_reactance)
    lines.push_back("X\"d " + print_number(*generator.subtransient_reactance));
  if (generator.neutral)
    lines.emplace_back(*generator.neutral == site::NeutralLink::fixed ? "neutral linked"
                                                                      : "neutral floating");
  if (generator.fixed == false) lines.emplace_back("portable");
  return lines;
}

std::string_view bond_word(site::BondContact bond) {
  switch (bond) {
    case site::BondContact::absent:
      return "";
    case site::BondContact::closes_in_island:
      return "N–PE in island";
    case site::BondContact::always_closed:
      return "N–PE always";
    case site::BondContact::stays_open:
      return "N–PE stays open";
  }
  return "";
}

std::vector<std::string> inverter_lines(const site::Inverter& inverter) {
  std::vector<std::string> lines;
  if (inverter.power) lines.push_back(print(*inverter.power));
  if (inverter.forming)
    lines.emplace_back(*inverter.forming == site::Forming::grid_forming ? "grid-forming"
                                                                        : "grid-following");
  if (inverter.bond && *inverter.bond != site::BondContact::absent)
    lines.emplace_back(bond_word(*inverter.bond));
  return lines;
}

std::vector<std::string> battery_lines(const site::Battery& battery) {
  std::vector<std::string> lines;
  if (battery.energy) lines.push_back(print(*battery.energy));
  if (battery.nominal_voltage) {
    lines.push_back(print(*battery.nominal_voltage) + " DC");
  } else if (battery.voltage_min && battery.voltage_max) {
    lines.push_back(print_number(battery.voltage_min->in(unit::volt)) + " to " +
                    print(*battery.voltage_max));
  }
  return lines;
}

std::vector<std::string> pv_lines(const site::PvArray& array) {
  std::vector<std::string> lines;
  if (array.strings) {
    std::string words = print_number(*array.strings);
    if (array.modules_per_string) {
      words += " × " + print_number(*array.modules_per_string);
    } else {
      words += *array.strings == 1 ? " string" : " strings";
    }
    lines.push_back(words);
  }
  if (array.power) lines.push_back(kilo_peak(*array.power));
  return lines;
}

std::vector<std::string> bond_lines(const site::Bond& bond) {
  // Many states are told by the table of states; here they would only widen the panel.
  constexpr std::size_t most_named = 2;
  std::vector<std::string> lines{"N–PE"};
  if (bond.cross_section) lines.front() += " " + print(*bond.cross_section);
  std::string closed;
  for (const std::string& state : bond.closed_in)
    closed = joined(closed, state, ", ");
  if (bond.closed_in.size() > most_named)
    closed = print_number(static_cast<double>(bond.closed_in.size())) + " states";
  if (!closed.empty()) lines.push_back("closed in " + closed);
  if (!bond.driven_by.empty()) lines.push_back("by " + bond.driven_by);
  return lines;
}

std::vector<std::string> connector_lines(const site::Connector& connector) {
  std::vector<std::string> lines{connector.inlet ? "inlet" : "socket-outlet"};
  if (connector.rated_current) lines.push_back(print(*connector.rated_current));
  return lines;
}

std::vector<std::string> protector_lines(const site::SurgeProtector& protector) {
  std::vector<std::string> lines;
  if (!protector.type.empty()) lines.push_back(protector.type);
  if (protector.continuous_voltage) lines.push_back("Uc " + print(*protector.continuous_voltage));
  if (protector.backup_fuse) lines.push_back("fuse " + print(*protector.backup_fuse));
  return lines;
}

std::vector<std::string> load_lines(const site::LoadGroup& load) {
  std::vector<std::string> lines;
  if (load.power) lines.push_back(print(*load.power));
  return lines;
}

}  // namespace

Label label_of(const Site& site, std::size_t index) {
  const Element& element = site.elements.at(index);
  using Lines = std::vector<std::string>;
  Lines lines = std::visit(
      Overloaded{
          [](const site::Busbar& bar) {
            return bar.rated_current ? Lines{print(*bar.rated_current)} : Lines{};
          },
          [](const site::MainEarthingTerminal&) { return Lines{"main earthing", "terminal"}; },
          [&](const site::Supply& supply) { return supply_lines(site, supply); },
          [](const site::Generator& generator) { return generator_lines(generator); },
          [](const site::Inverter& inverter) { return inverter_lines(inverter); },
          [](const site::Battery& battery) { return battery_lines(battery); },
          [](const site::PvArray& array) { return pv_lines(array); },
          [](const site::Device& device) { return device_lines(device); },
          [](const site::Bond& bond) { return bond_lines(bond); },
          [](const site::PenSplit&) { return Lines{"PEN split"}; },
          [](const site::Electrode& electrode) {
            return electrode.resistance ? Lines{"RA " + print(*electrode.resistance)} : Lines{};
          },
          [](const site::Connector& connector) { return connector_lines(connector); },
          [](const site::Meter& meter) { return Lines{meter.two_way ? "two-way meter" : "meter"}; },
          [](const site::SurgeProtector& protector) { return protector_lines(protector); },
          [](const site::Transformer& transformer) {
            return transformer.power ? Lines{print(*transformer.power)} : Lines{};
          },
          [](const site::LoadGroup& load) { return load_lines(load); }},
      element.facts);
  if (!element.designation.empty() && element.designation == site.permit.ownership_boundary)
    lines.emplace_back("ownership boundary");
  return {element.designation, std::move(lines)};
}

std::string describe(const Site& site, std::size_t index) {
  const Label label = label_of(site, index);
  std::string words = site.elements.at(index).name;
  for (const std::string& line : label.lines)
    words = joined(words, line, ", ");
  return words.empty() ? kind_word(site.elements.at(index)) : words;
}

std::string terminal_words(const Site& site, site::Terminal terminal) {
  const Element& element = site.elements.at(terminal.element);
  return terminal.terminal < element.terminals.size()
             ? element.designation + ":" + element.terminals[terminal.terminal]
             : element.designation;
}

std::vector<std::string> cable_lines(const site::Run& run, CableLines shape) {
  if (!run.cable) return {};
  const site::Cable& cable = *run.cable;
  std::string make;
  if (cable.cores && cable.cross_section) {
    const bool unequal = cable.written.find('+') != std::string::npos;
    const std::string size = print_number(cable.cross_section->in(unit::mm2));
    make = fmt::format("{}×{}", *cable.cores, size);
    if (unequal && cable.earth_cross_section)
      make += " + " + print_number(cable.earth_cross_section->in(unit::mm2));
    make += " mm²";
    if (shape == CableLines::wide) make += " " + cable.material;
  } else {
    make = cable.written;
  }
  std::vector<std::string> lines{run.designation};
  if (shape == CableLines::wide) {
    lines.front() = joined(run.designation, make);
  } else if (!make.empty()) {
    lines.push_back(make);
  }
  std::string second = shape == CableLines::narrow && cable.cross_section ? cable.material : "";
  if (cable.length) second = joined(second, print(*cable.length));
  if (!cable.insulation.empty()) second = joined(second, cable.insulation, ", ");
  if (!cable.method.empty()) second = joined(second, "method " + cable.method, ", ");
  if (!second.empty()) lines.push_back(second);
  return lines;
}

std::string describe(const Site& site, const site::Run& run) {
  std::string words = terminal_words(site, run.from) + " to " + terminal_words(site, run.to);
  if (run.cable) words = joined(words, run.cable->written, ", ");
  return joined(words, site::words(run.conductors), ", ");
}

CircuitCells circuit_cells(const Site& site, const std::vector<std::size_t>& devices,
                           const site::Run* cable, std::size_t load, const std::string& group) {
  CircuitCells cells{.residual = group.empty() ? "–" : group};
  for (const std::size_t index : devices) {
    const Element& element = site.elements.at(index);
    const auto* device = site::facts<site::Device>(element);
    if (device == nullptr) continue;
    cells.circuit = element.designation;
    cells.device = rating(*device);
    cells.poles = poles_words(*device);
    if (device->residual) {
      const site::Residual& residual = *device->residual;
      cells.residual = residual.operating_current ? print(*residual.operating_current) : "?";
      if (residual.type) cells.type = type_mark(*residual.type);
      if (residual.delay == site::ResidualDelay::selective) cells.type += " S";
    }
  }
  if (cable != nullptr && cable->cable) {
    const site::Cable& make = *cable->cable;
    if (make.cores && make.cross_section) {
      cells.cable =
          fmt::format("{}×{}", *make.cores, print_number(make.cross_section->in(unit::mm2)));
      if (make.material != "Cu") cells.cable += " " + make.material;
    } else {
      cells.cable = make.written;
    }
    if (make.length) cells.length = print(*make.length);
  }
  if (load != none) {
    const Element& element = site.elements.at(load);
    if (cells.circuit.empty()) cells.circuit = element.designation;
    const auto* group_of_loads = site::facts<site::LoadGroup>(element);
    if (group_of_loads != nullptr && group_of_loads->power)
      cells.load = print(*group_of_loads->power);
  }
  return cells;
}

}  // namespace linewright::diagram

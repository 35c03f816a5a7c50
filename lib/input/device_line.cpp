#include "input/device_line.hpp"

#include <array>
#include <utility>

#include <fmt/core.h>

#include "input/device_words.hpp"
#include "input/nearest.hpp"
#include "input/read_parts.hpp"
#include "input/values.hpp"
#include "input/words.hpp"

namespace linewright::input {
namespace {

using site::Device;
using site::DeviceKind;

constexpr std::array<std::string_view, 24> device_keys{
    "id",          "name",          "device",
    "operated",    "without power", "break before make",
    "category",    "driven by",     "latching",
    "lockable",    "isolating",     "mirror contact",
    "rest",        "with feedback", "guards",
    "form",        "lead length",   "continuous voltage",
    "backup fuse", "neutral",       "closed transition",
    "automatic",   "withstands",    "current transformers"};

constexpr Choice<site::Operation> operations[] = {{"hand", site::Operation::hand},
                                                  {"controller", site::Operation::controller},
                                                  {"both", site::Operation::both}};
constexpr Choice<site::NeutralTiming> timings[] = {
    {"simultaneous", site::NeutralTiming::simultaneous},
    {"early", site::NeutralTiming::early_make_late_break},
    {"separate", site::NeutralTiming::separate}};

template <class T>
void set_if(T& target, T value) {
  if (value) target = std::move(value);
}

bool stands_at(const Device& device, std::string_view position) {
  if (device.kind != DeviceKind::changeover) return position == "open" || position == "closed";
  for (const site::Throw& each : device.throws)
    if (each.position == position) return true;
  return false;
}

void read_position(const Node* node, const Device& device, std::string& target,
                   Mistakes& mistakes) {
  const std::optional<std::string> position = value_text(node, mistakes);
  if (!position) return;
  if (stands_at(device, *position))
    target = *position;
  else
    mistakes.add(node->where, fmt::format("{} is no position of this device", quote(*position)),
                 device.kind == DeviceKind::changeover ? "expected a throw such as 'I', '0' or 'II'"
                                                       : "expected 'open' or 'closed'");
}

void read_device_fields(const Fields& fields, Device& device, Mistakes& mistakes) {
  set_if(device.operation, choice(fields.find("operated"), operations, mistakes));
  set_if(device.neutral_timing, choice(fields.find("neutral"), timings, mistakes));
  set_if(device.break_before_make, yes_no(fields.find("break before make"), mistakes));
  set_if(device.latching, yes_no(fields.find("latching"), mistakes));
  set_if(device.lockable, yes_no(fields.find("lockable"), mistakes));
  set_if(device.isolates, yes_no(fields.find("isolating"), mistakes));
  set_if(device.feedback, yes_no(fields.find("mirror contact"), mistakes));
  set_if(device.feedback, yes_no(fields.find("with feedback"), mistakes));
  device.closed_transition = read_closed_transition(fields.find("closed transition"), mistakes);
  device.automatic = read_automatic(fields.find("automatic"), mistakes);
  device.withstand = quantity<Current>(fields.find("withstands"), mistakes);
  device.category = text(fields.find("category"), mistakes);
  device.driven_by = text(fields.find("driven by"), mistakes);
  read_position(fields.find("rest"), device, device.rest, mistakes);
  std::string without_power;
  read_position(fields.find("without power"), device, without_power, mistakes);
  if (!without_power.empty()) device.without_power = without_power;
}

void read_surge_fields(const Fields& fields, site::SurgeProtector& spd, Mistakes& mistakes) {
  spd.form = text(fields.find("form"), mistakes);
  set_if(spd.lead_length, quantity<Length>(fields.find("lead length"), mistakes));
  set_if(spd.continuous_voltage, quantity<Voltage>(fields.find("continuous voltage"), mistakes));
  set_if(spd.backup_fuse, quantity<Current>(fields.find("backup fuse"), mistakes));
}

void read_meter_fields(const Fields& fields, site::Meter& meter, Mistakes& mistakes) {
  meter.guards = text(fields.find("guards"), mistakes);
  meter.current_transformers = text(fields.find("current transformers"), mistakes);
}

// Keys that say nothing about a thing of this kind would be lost silently.
void refuse_keys(const Fields& fields, std::span<const std::string_view> keys,
                 std::string_view kind, Mistakes& mistakes) {
  for (const std::string_view key : keys)
    if (const Node* value = fields.find(key))
      mistakes.add(value->where, fmt::format("'{}' says nothing about {}", key, kind),
                   "delete this key");
}

constexpr std::array<std::string_view, 13> switch_keys{
    "operated",          "without power", "break before make", "category", "driven by",
    "latching",          "lockable",      "isolating",         "rest",     "neutral",
    "closed transition", "automatic",     "withstands"};
constexpr std::array<std::string_view, 4> surge_keys{"form", "lead length", "continuous voltage",
                                                     "backup fuse"};
constexpr std::array<std::string_view, 2> meter_keys{"guards", "current transformers"};

std::optional<DeviceLine> read_map(const Node& node, Mistakes& mistakes,
                                   std::optional<DeviceKind> assumed) {
  const Fields fields(node, device_section, mistakes);
  const Node* line = fields.find("device");
  if (line == nullptr || !line->is_scalar()) {
    mistakes.add(line ? line->where : node.where, "this device does not say what it is",
                 "add 'device:' with a line such as 'breaker B16 1P+N'");
    return std::nullopt;
  }
  std::optional<DeviceLine> device = read_device_words(*line, mistakes, assumed);
  if (!device) return std::nullopt;
  if (const Node* id = fields.find("id")) device->designation = text(id, mistakes);
  device->name = text(fields.find("name"), mistakes);
  device->where = node.where;
  auto* spd = std::get_if<site::SurgeProtector>(&device->facts);
  auto* meter = std::get_if<site::Meter>(&device->facts);
  if (auto* plain_device = std::get_if<Device>(&device->facts))
    read_device_fields(fields, *plain_device, mistakes);
  else
    refuse_keys(fields, switch_keys, "a thing that does not switch", mistakes);
  if (spd != nullptr)
    read_surge_fields(fields, *spd, mistakes);
  else
    refuse_keys(fields, surge_keys, "a thing that is no SPD", mistakes);
  if (meter != nullptr)
    read_meter_fields(fields, *meter, mistakes);
  else
    refuse_keys(fields, meter_keys, "a thing that is no meter", mistakes);
  return device;
}

}  // namespace

const Section device_section{"a device", device_keys};

std::optional<DeviceLine> read_device(const Node& node, Mistakes& mistakes,
                                      std::optional<DeviceKind> assumed) {
  if (node.is_map()) return read_map(node, mistakes, assumed);
  if (node.is_scalar()) return read_device_words(node, mistakes, assumed);
  mistakes.add(node.where, "a device is a line or a map",
               "write a line such as '-F1 breaker B16 1P+N'");
  return std::nullopt;
}

std::string class_letter(const site::Facts& facts) {
  if (const auto* device = std::get_if<Device>(&facts)) {
    switch (device->kind) {
      case DeviceKind::breaker:
      case DeviceKind::rcd:
      case DeviceKind::rcbo:
      case DeviceKind::fuse:
        return "F";
      case DeviceKind::link:
        return "X";
      default:
        return "Q";
    }
  }
  if (std::holds_alternative<site::Meter>(facts)) return "P";
  if (std::holds_alternative<site::SurgeProtector>(facts)) return "F";
  if (std::holds_alternative<site::Transformer>(facts)) return "T";
  if (std::holds_alternative<site::Inverter>(facts)) return "T";
  if (std::holds_alternative<site::Generator>(facts)) return "G";
  if (std::holds_alternative<site::Battery>(facts)) return "GB";
  if (std::holds_alternative<site::PvArray>(facts)) return "GC";
  if (std::holds_alternative<site::Busbar>(facts)) return "WB";
  if (std::holds_alternative<site::LoadGroup>(facts)) return "E";
  return "X";
}

}  // namespace linewright::input

#include <algorithm>
#include <utility>

#include <fmt/core.h>

#include "input/said.hpp"

namespace linewright::input {
namespace {

using site::Device;
using site::DeviceKind;

void default_throws(Device& device) {
  if (device.kind != DeviceKind::changeover) return;
  if (device.throws.empty()) device.throws = {{"I", "I"}, {"0", ""}, {"II", "II"}};
  const bool has_off = std::any_of(device.throws.begin(), device.throws.end(),
                                   [](const site::Throw& t) { return t.terminal.empty(); });
  device.rest = has_off ? "0" : "";  // without off only the file can say where it rests
}

std::optional<DeviceKind> kind_of(const Said& said, std::optional<DeviceKind> assumed) {
  const bool fuse_curve = said.device.curve.starts_with('g') || said.device.curve.starts_with('a');
  if (said.kind) {
    const bool breaker_with_rcd = said.kind->kind == DeviceKind::breaker && said.has_residual;
    return breaker_with_rcd ? DeviceKind::rcbo : said.kind->kind;
  }
  if (assumed) return assumed;
  if (!said.device.throws.empty()) return DeviceKind::changeover;
  if (fuse_curve) return DeviceKind::fuse;
  if (!said.device.curve.empty()) return said.has_residual ? DeviceKind::rcbo : DeviceKind::breaker;
  if (said.has_residual) return DeviceKind::rcd;
  return std::nullopt;
}

std::optional<site::Facts> device_facts(const Said& said, const Node& line, Mistakes& mistakes,
                                        std::optional<DeviceKind> assumed) {
  const std::optional<DeviceKind> kind = kind_of(said, assumed);
  if (!kind) {
    mistakes.add(line.where, fmt::format("{} does not say what it is", quote(line.text)),
                 "add its kind, such as 'breaker', 'RCD' or 'switch-disconnector'");
    return std::nullopt;
  }
  Device device = said.device;
  device.kind = *kind;
  device.direction = said.direction;
  device.rest = *kind == DeviceKind::contactor ? "open" : "closed";
  if (said.has_residual) device.residual = said.residual;
  if (said.has_residual && *kind != DeviceKind::rcd && *kind != DeviceKind::rcbo)
    mistakes.add(line.where, "a residual current on something that senses none",
                 "write 'RCD' or 'RCBO', or delete it");
  if (!device.residual && (*kind == DeviceKind::rcd || *kind == DeviceKind::rcbo))
    device.residual.emplace();
  default_throws(device);
  if (*kind != DeviceKind::changeover && !device.throws.empty())
    mistakes.add(line.where, "positions such as I-0-II belong to a changeover",
                 "write 'changeover' or leave the positions out");
  if (said.rest) {
    device.rest = *said.rest;
    const bool numbered = *said.rest != "open" && *said.rest != "closed";
    if (numbered != (*kind == DeviceKind::changeover))
      mistakes.add(line.where,
                   fmt::format("'normally {}' is no position of this device", *said.rest),
                   "expected 'normally open', or 'normally 0' of a changeover");
  }
  return device;
}

// Ratings that mean nothing to this kind of thing would be lost silently.
void refuse_ratings(const Said& said, Thing thing, const Node& line, Mistakes& mistakes) {
  const auto refuse = [&](std::string_view what) {
    mistakes.add(line.where, fmt::format("{} on something that has none", what),
                 "delete it, or mend the unit: 'A', 'mA' or 'kA'");
  };
  if (said.voltage && thing != Thing::spd) refuse("a voltage");
  if (said.power && thing != Thing::transformer) refuse("an apparent power");
  if (!said.surge_type.empty() && thing != Thing::spd) refuse("an SPD type");
  if (said.has_residual && thing != Thing::device) refuse("a residual current");
}

}  // namespace

std::optional<site::Facts> facts_of(const Said& said, const Node& line, Mistakes& mistakes,
                                    std::optional<DeviceKind> assumed) {
  const Thing thing = said.kind ? said.kind->thing : Thing::device;
  refuse_ratings(said, thing, line, mistakes);
  switch (thing) {
    case Thing::device:
      return device_facts(said, line, mistakes, assumed);
    case Thing::meter:
      return site::Meter{.two_way = said.direction == site::FeedDirection::two_way,
                         .guards = {},
                         .current_transformers = {}};
    case Thing::inlet:
      return site::Connector{true, said.device.rated_current};
    case Thing::socket_outlet:
      return site::Connector{false, said.device.rated_current};
    case Thing::spd: {
      site::SurgeProtector spd;
      spd.type = said.surge_type;
      spd.continuous_voltage = said.voltage;
      return spd;
    }
    case Thing::transformer:
      return site::Transformer{said.power};
    case Thing::pen_split:
      return site::PenSplit{};
  }
  return std::nullopt;
}

}  // namespace linewright::input

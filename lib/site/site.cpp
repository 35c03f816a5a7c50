#include "site/site.hpp"

namespace linewright::site {

std::size_t Site::find(std::string_view designation) const {
  for (std::size_t i = 0; i < elements.size(); ++i)
    if (elements[i].designation == designation) return i;
  return none;
}

std::size_t Site::find_terminal(std::size_t element, std::string_view terminal) const {
  const auto& names = elements.at(element).terminals;
  for (std::size_t i = 0; i < names.size(); ++i)
    if (names[i] == terminal) return i;
  return none;
}

Conductor arrives_as(const Run& run, Conductor conductor) {
  if (!run.cable || !run.cable->crossed.has(conductor)) return conductor;
  for (const Conductor other : {Conductor::l1, Conductor::l2, Conductor::l3})
    if (other != conductor && run.cable->crossed.has(other)) return other;
  return conductor;
}

bool breaks_overcurrent(const Device& device) {
  switch (device.kind) {
    case DeviceKind::breaker:
    case DeviceKind::rcbo:
    case DeviceKind::fuse:
    case DeviceKind::fuse_switch:
      return true;
    case DeviceKind::rcd:
    case DeviceKind::switch_disconnector:
    case DeviceKind::disconnector:
    case DeviceKind::contactor:
    case DeviceKind::changeover:
    case DeviceKind::link:
      return false;
  }
  return false;
}

bool opens_by_itself(const Device& device) {
  return device.kind == DeviceKind::rcd || breaks_overcurrent(device);
}

bool closed_by_controller_only(const Device& device) {
  if (device.operation) return *device.operation == Operation::controller;
  return device.kind == DeviceKind::contactor;
}

std::string_view mark(Earthing earthing) {
  switch (earthing) {
    case Earthing::tn_s:
      return "TN-S";
    case Earthing::tn_c_s:
      return "TN-C-S";
    case Earthing::tt:
      return "TT";
    case Earthing::it:
      return "IT";
  }
  return {};
}

}  // namespace linewright::site

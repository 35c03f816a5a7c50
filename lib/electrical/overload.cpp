#include "electrical/overload.hpp"

namespace linewright::electrical {

Current conventional_operating_current(OverloadDevice device, Current rated) {
  switch (device) {
    case OverloadDevice::breaker_60898:
      return 1.45 * rated;
    case OverloadDevice::breaker_60947:
      return 1.30 * rated;
    case OverloadDevice::fuse_gg:
      break;
  }
  if (rated >= 16.0 * unit::ampere) return 1.6 * rated;
  return (rated > 4.0 * unit::ampere ? 1.9 : 2.1) * rated;
}

OverloadCheck overload(const OverloadInput& in) {
  std::optional<Current> i2;
  std::optional<Current> allowed;
  if (in.rated) i2 = conventional_operating_current(in.device, *in.rated);
  if (in.capacity) allowed = 1.45 * *in.capacity;
  return {at_most(in.design, in.rated), at_most(in.rated, in.capacity), at_most(i2, allowed)};
}

}  // namespace linewright::electrical

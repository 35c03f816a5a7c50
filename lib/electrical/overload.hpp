// Overload protection of a cable: Ib <= In <= Iz and I2 <= 1.45 Iz.
#pragma once

#include <optional>

#include "electrical/judgement.hpp"
#include "units/quantity.hpp"

namespace linewright::electrical {

/// What decides how far above its rating a device surely operates. `breaker_60947` is set in
/// amperes (IEC 60947-2), `breaker_60898` is the household kind, `fuse_gg` IEC 60269.
enum class OverloadDevice { breaker_60898, breaker_60947, fuse_gg };

/// The current that surely operates the device in its conventional time, I2.
///     1.45 In (IEC 60898-1), 1.30 In (IEC 60947-2), gG: 1.6 In from 16 A, 1.9 In above 4 A, 2.1 In
/// Source: IEC 60898-1 Table 7; IEC 60947-2 Table 6; IEC 60269-1 and -3 (all from memory).
Current conventional_operating_current(OverloadDevice device, Current rated);

/// The four numbers of the condition; what is not known is left out.
struct OverloadInput {
  std::optional<Current> design;    ///< Ib
  std::optional<Current> rated;     ///< In, or what an adjustable device is set to
  std::optional<Current> capacity;  ///< Iz as installed
  OverloadDevice device = OverloadDevice::breaker_60898;
};

/// Each part of the condition on its own.
struct OverloadCheck {
  Judgement carries_load;      ///< Ib <= In
  Judgement cable_carries;     ///< In <= Iz
  Judgement operates_in_time;  ///< I2 <= 1.45 Iz
};

/// Source: IEC 60364-4-43:2008, 433.1.
OverloadCheck overload(const OverloadInput& in);

}  // namespace linewright::electrical

// When a residual current device operates, and whether two in series trip one after the other.
#pragma once

#include <optional>

#include "electrical/judgement.hpp"
#include "units/quantity.hpp"

namespace linewright::electrical {

/// Without delay, or type S with its delay. A device whose delay can be set is told by its maker.
enum class RcdDelay { none, selective };

/// Between which times it operates at this residual current; infinite where it need not, both ends
/// where it must not (up to half of the rated residual current).
///     at IdN, 2 IdN, 5 IdN: at most 0.30, 0.15, 0.04 s; S at most 0.50, 0.20, 0.15 s, at least
///     0.13, 0.06, 0.05 s
/// Between two test currents the worse counts.
/// Valid for: sinusoidal residual current, IdN of 30 mA and more.
/// Source: IEC 61008-1 and 61009-1, operating times.
Bounds<Time> rcd_time(RcdDelay delay, Current rated_residual, Current residual);

/// Of one device what is known about it.
struct Rcd {
  std::optional<Current> rated_residual;
  std::optional<RcdDelay> delay;
};

/// Whether the one downstream trips alone: the upstream one is at least three times less sensitive
/// and is delayed, while the downstream one is not. Source: IEC 60364-5-53, 536.4.1.4 (from
/// memory), and a maker's catalogue.
Judgement rcds_discriminate(const Rcd& upstream, const Rcd& downstream);

}  // namespace linewright::electrical

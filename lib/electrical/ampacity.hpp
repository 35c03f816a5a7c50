// Current-carrying capacity of cables as the standard tabulates it.
#pragma once

#include <vector>

#include "electrical/conductor.hpp"
#include "units/result.hpp"

namespace linewright::electrical {

/// Reference method of installation (IEC 60364-5-52:2009, Table B.52.1): in conduit in an insulated
/// wall (A1 single cores, A2 cable), in conduit on a wall (B1, B2), on a wall (C), in a duct in the
/// ground (D1), in free air (E multicore, F single cores touching).
enum class Method { a1, a2, b1, b2, c, d1, e, f };

/// What picks a column of the tables.
struct CableKind {
  Method method;
  Insulation insulation;
  Material material;
  int loaded;  ///< Conductors that carry current, 2 or 3.
};

/// The capacity of one circuit under reference conditions.
/// Fails when the table has no such column or no such size. Nothing is interpolated: a size that is
/// not made has no capacity.
/// Source: IEC 60364-5-52:2009, Tables B.52.2 to B.52.5 and B.52.10 to B.52.13 (ampacity.csv).
Result<Current> tabulated_capacity(const CableKind& kind, Area cross_section);

/// The sizes that the table has for this kind, rising; empty if it has none.
std::vector<Area> tabulated_sizes(const CableKind& kind);

/// The smallest size whose tabulated capacity reaches this current, which is what is needed divided
/// by the factors that apply. Fails when no size of the table does. Source: IEC 60364-5-52:2009,
/// the tables above.
Result<Area> smallest_size(const CableKind& kind, Current tabulated);

/// Capacity as installed, Iz: the tabulated one times every factor that applies.
template <class... Factors>
constexpr Current installed_capacity(Current tabulated, Factors... factors) {
  return (tabulated * ... * factors);
}

}  // namespace linewright::electrical

// How long a battery or a tank lasts.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "units/quantity.hpp"
#include "units/result.hpp"

namespace linewright::electrical {

/// A battery with what lies between its terminals and the loads.
struct Store {
  Energy nominal;  ///< > 0
  double window;   ///< Share between full and the lowest charge allowed, above 0, up to 1.
  double discharging = 1.0;  ///< Efficiency from battery to load, above 0, up to 1.
  double charging = 1.0;     ///< Efficiency from source to battery, above 0, up to 1.
};

/// What reaches the loads from full to lowest: nominal x window x efficiency.
/// Fails when an input is outside the range beside it.
Result<Energy> usable_energy(const Store& store);

/// The capacity that holds this energy: Ah = E / (U x window) x margin.
/// Fails when an input is not above 0, or the window above 1.
/// Source: sizing guides for batteries; the margin (1.15 for 15 % losses) is the user's.
Result<Capacity> required_capacity(Energy energy, Voltage voltage, double window, double margin);

/// What is drawn and what the sun gives, in steps of equal length that repeat (a day).
struct Profile {
  Time step;
  std::span<const ActivePower> load;
  std::span<const ActivePower> sun;  ///< As long as `load`, or empty.
};

/// The charge over time.
struct EnduranceCurve {
  std::vector<Energy> stored;       ///< Above the lowest allowed, at the start and after each step.
  std::optional<Time> empty_after;  ///< When a load was first not served; nothing if never.
  Energy unserved;
  Energy spilled;  ///< Sun that neither load nor battery could take.
};

/// Follows a battery that starts with this share of its window over a number of steps.
/// Sun serves the loads first, also while the battery is empty: whether an inverter does so its
/// maker says. Within a step power is constant.
/// Fails when the store is unsound, the profile empty or uneven, or the share not within 0 and 1.
/// Source: energy balance.
Result<EnduranceCurve> endurance_curve(const Store& store, const Profile& profile, double share,
                                       std::size_t steps);

using Volume = decltype(Area{} * Length{});
using VolumeFlow = decltype(Volume{} / Time{});
inline constexpr Volume litre{1e-3};

/// One point of a maker's table: the flow of fuel at a share of the rating.
struct FuelPoint {
  double load;
  VolumeFlow flow;
};

/// The flow between two points in proportion; nothing is known outside of them.
/// Fails when the load is not within the points, or these do not rise.
Result<VolumeFlow> fuel_flow(std::span<const FuelPoint> points, double load);

}  // namespace linewright::electrical

// The direct-current side of a battery: service current, fault current, cable and fuse.
#pragma once

#include <optional>
#include <span>

#include "electrical/judgement.hpp"
#include "units/quantity.hpp"
#include "units/result.hpp"

namespace linewright::electrical {

/// What an inverter draws from its battery at the worst: I = P / (eta U lowest).
/// Fails when the efficiency is not above 0 and up to 1, or the voltage not above 0.
/// Source: energy balance; the lowest voltage is where the inverter or battery cuts off.
Result<Current> battery_current(ActivePower power, double efficiency, Voltage lowest);

/// A stack as a source: what its maker declares for a short at its terminals.
struct BatteryStack {
  std::optional<Voltage> open_circuit;   ///< At full charge.
  std::optional<Resistance> resistance;  ///< Inside, all modules in series, with its own links.
};

/// The current of stacks in parallel into a short behind this resistance; nothing if one of
/// them is not declared, since a stack that nobody knows may give any current.
///     sum(U / R) / sum(1 / R) over (1 / sum(1 / R) + R cable)
/// Valid for: batteries without electronics that limit the current; inductance left out.
/// Source: stacks as voltages behind resistances, in parallel.
std::optional<Current> battery_fault(std::span<const BatteryStack> stacks, Resistance cable);

struct BatteryFuse {
  std::optional<Current> rated;
  std::optional<Current> service;         ///< Continuous current.
  std::optional<Current> cable_capacity;  ///< Iz of the cable behind it.
  std::optional<Current> breaks;          ///< Breaking capacity, direct current, at this voltage.
  std::optional<Current> prospective;     ///< Fault current at its place.
};

/// Each part of the question on its own.
struct BatteryFuseCheck {
  Judgement carries_load;    ///< In >= 1.25 times the service current
  Judgement protects_cable;  ///< In <= Iz
  Judgement breaks_fault;    ///< breaking capacity >= fault current
};

/// Source: off-grid sizing guides (1.25); IEC 60364-4-43, 433.1 and 434.5.1.
BatteryFuseCheck battery_fuse(const BatteryFuse& in);

/// A run of two alike conductors.
struct DirectCurrentRun {
  Resistivity resistivity;  ///< At conductor temperature.
  Length length;            ///< One way.
  Area cross_section;
  Current current;
};

/// Drop of a direct-current run, there and back: 2 rho L I / S.
/// Fails when an input is below 0 or the section not above it.
/// Source: Ohm's law.
Result<Voltage> direct_current_drop(const DirectCurrentRun& run);

}  // namespace linewright::electrical

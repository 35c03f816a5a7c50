// Quantities with their dimension in the type, so that volts cannot be added to amperes.
//
//   using namespace linewright::unit;
//   const Resistance r = 0.0225 * ohm_mm2_per_metre * (25.0 * metre) / (6.0 * mm2);
//   const double shown = (r * (32.0 * ampere)).in(volt);
//
// A unit is nothing but a quantity of size one. Units appear where numbers come in and go out.
#pragma once

#include <compare>

namespace linewright {

/// A physical quantity: powers of volt, ampere, metre, second and kelvin over a number in coherent
/// SI units. Made by multiplying a number with a unit; left to itself it is zero.
template <int V, int A, int M, int S, int K>
struct Quantity {
  double si = 0.0;

  /// The number that stands before this unit.
  constexpr double in(Quantity unit) const { return si / unit.si; }

  constexpr Quantity operator-() const { return {-si}; }
  constexpr Quantity& operator+=(Quantity other) { return si += other.si, *this; }
  constexpr Quantity& operator-=(Quantity other) { return si -= other.si, *this; }

  friend constexpr Quantity operator+(Quantity a, Quantity b) { return {a.si + b.si}; }
  friend constexpr Quantity operator-(Quantity a, Quantity b) { return {a.si - b.si}; }
  friend constexpr Quantity operator*(double a, Quantity b) { return {a * b.si}; }
  friend constexpr Quantity operator*(Quantity a, double b) { return {a.si * b}; }
  friend constexpr Quantity operator/(Quantity a, double b) { return {a.si / b}; }
  friend constexpr auto operator<=>(Quantity, Quantity) = default;
};

template <int V, int A, int M, int S, int K, int V2, int A2, int M2, int S2, int K2>
constexpr auto operator*(Quantity<V, A, M, S, K> a, Quantity<V2, A2, M2, S2, K2> b) {
  if constexpr (V + V2 == 0 && A + A2 == 0 && M + M2 == 0 && S + S2 == 0 && K + K2 == 0) {
    return a.si * b.si;
  } else {
    return Quantity<V + V2, A + A2, M + M2, S + S2, K + K2>{a.si * b.si};
  }
}

template <int V, int A, int M, int S, int K, int V2, int A2, int M2, int S2, int K2>
constexpr auto operator/(Quantity<V, A, M, S, K> a, Quantity<V2, A2, M2, S2, K2> b) {
  if constexpr (V == V2 && A == A2 && M == M2 && S == S2 && K == K2) {
    return a.si / b.si;
  } else {
    return Quantity<V - V2, A - A2, M - M2, S - S2, K - K2>{a.si / b.si};
  }
}

template <int V, int A, int M, int S, int K>
constexpr auto operator/(double a, Quantity<V, A, M, S, K> b) {
  return Quantity<-V, -A, -M, -S, -K>{a / b.si};
}

using Voltage = Quantity<1, 0, 0, 0, 0>;
using Current = Quantity<0, 1, 0, 0, 0>;
using Length = Quantity<0, 0, 1, 0, 0>;
using Time = Quantity<0, 0, 0, 1, 0>;
using TemperatureDifference = Quantity<0, 0, 0, 0, 1>;
using Area = decltype(Length{} * Length{});
using Frequency = decltype(1.0 / Time{});
/// Also reactance and impedance: whoever needs them apart says so in the name.
using Resistance = decltype(Voltage{} / Current{});
using Conductance = decltype(Current{} / Voltage{});
using Resistivity = decltype(Resistance{} * Length{});
using ResistancePerLength = decltype(Resistance{} / Length{});
/// Electric charge; of a battery, what it holds in ampere hours.
using Capacity = decltype(Current{} * Time{});
using Capacitance = decltype(Capacity{} / Voltage{});
/// What a fuse or breaker lets through, the integral of the square of the current.
using LetThrough = decltype(Current{} * Current{} * Time{});
/// Volt times ampere, before it is said which kind of power it is.
using Power = decltype(Voltage{} * Current{});
using PowerTime = decltype(Power{} * Time{});

/// A quantity of one kind among several that share a dimension, so that they do not mix.
template <class Kind, class Base>
struct OfKind {
  Base base;

  /// The number that stands before this unit.
  constexpr double in(OfKind unit) const { return base.in(unit.base); }

  constexpr OfKind operator-() const { return {-base}; }
  constexpr OfKind& operator+=(OfKind other) { return base += other.base, *this; }
  constexpr OfKind& operator-=(OfKind other) { return base -= other.base, *this; }

  friend constexpr OfKind operator+(OfKind a, OfKind b) { return {a.base + b.base}; }
  friend constexpr OfKind operator-(OfKind a, OfKind b) { return {a.base - b.base}; }
  friend constexpr OfKind operator*(double a, OfKind b) { return {a * b.base}; }
  friend constexpr OfKind operator*(OfKind a, double b) { return {a.base * b}; }
  friend constexpr OfKind operator/(OfKind a, double b) { return {a.base / b}; }
  friend constexpr double operator/(OfKind a, OfKind b) { return a.base / b.base; }
  friend constexpr auto operator<=>(OfKind, OfKind) = default;
};

using ActivePower = OfKind<struct ActivePowerKind, Power>;
using ApparentPower = OfKind<struct ApparentPowerKind, Power>;
using ReactivePower = OfKind<struct ReactivePowerKind, Power>;
using Energy = OfKind<struct EnergyKind, PowerTime>;

constexpr Energy operator*(ActivePower power, Time time) {
  return {power.base * time};
}
constexpr Time operator/(Energy energy, ActivePower power) {
  return energy.base / power.base;
}
constexpr ActivePower operator/(Energy energy, Time time) {
  return {energy.base / time};
}

/// A temperature on the scale of thermometers. It is a point: two of them have a difference, no
/// sum.
struct Celsius {
  double degrees = 0.0;

  friend constexpr TemperatureDifference operator-(Celsius a, Celsius b) {
    return {a.degrees - b.degrees};
  }
  friend constexpr Celsius operator+(Celsius a, TemperatureDifference b) {
    return {a.degrees + b.si};
  }
  friend constexpr Celsius operator-(Celsius a, TemperatureDifference b) {
    return {a.degrees - b.si};
  }
  friend constexpr auto operator<=>(Celsius, Celsius) = default;
};

/// The units, each a quantity of size one.
namespace unit {

inline constexpr Voltage volt{1.0};
inline constexpr Voltage millivolt{1e-3};
inline constexpr Voltage kilovolt{1e3};
inline constexpr Current ampere{1.0};
inline constexpr Current milliampere{1e-3};
inline constexpr Current kiloampere{1e3};
inline constexpr Resistance ohm{1.0};
inline constexpr Resistance milliohm{1e-3};
inline constexpr Resistance kiloohm{1e3};
inline constexpr Resistance megaohm{1e6};
inline constexpr Length metre{1.0};
inline constexpr Length millimetre{1e-3};
inline constexpr Length kilometre{1e3};
inline constexpr Area mm2{1e-6};
inline constexpr Area square_metre{1.0};
inline constexpr Time second{1.0};
inline constexpr Time millisecond{1e-3};
inline constexpr Time minute{60.0};
inline constexpr Time hour{3600.0};
inline constexpr Frequency hertz{1.0};
inline constexpr TemperatureDifference kelvin{1.0};
inline constexpr Resistivity ohm_metre{1.0};
inline constexpr Resistivity ohm_mm2_per_metre{1e-6};
inline constexpr ResistancePerLength ohm_per_metre{1.0};
inline constexpr ResistancePerLength milliohm_per_metre{1e-3};
inline constexpr ResistancePerLength ohm_per_kilometre{1e-3};
inline constexpr Capacitance microfarad{1e-6};
inline constexpr Capacity ampere_hour{3600.0};
inline constexpr LetThrough ampere_squared_second{1.0};
inline constexpr ActivePower watt{1.0};
inline constexpr ActivePower kilowatt{1e3};
inline constexpr ApparentPower volt_ampere{1.0};
inline constexpr ApparentPower kilovolt_ampere{1e3};
inline constexpr ReactivePower reactive_volt_ampere{1.0};
inline constexpr ReactivePower kilovar{1e3};
inline constexpr Energy joule{1.0};
inline constexpr Energy watt_hour{3600.0};
inline constexpr Energy kilowatt_hour{3.6e6};

}  // namespace unit

}  // namespace linewright

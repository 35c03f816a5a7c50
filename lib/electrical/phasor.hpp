// Quantities with an angle: voltages and currents that swing together, and impedances.
#pragma once

#include <cmath>

#include "units/quantity.hpp"

namespace linewright::electrical {

constexpr double si_of(double ratio) {
  return ratio;
}
template <int V, int A, int M, int S, int K>
constexpr double si_of(Quantity<V, A, M, S, K> quantity) {
  return quantity.si;
}

/// Root-mean-square size and angle of a sinusoidal quantity, or a resistance with its reactance.
/// An impedance has its resistance in `re` and its reactance in `im`, inductive positive.
template <class Q>
struct Phasor {
  Q re{};
  Q im{};

  constexpr Phasor operator-() const { return {-re, -im}; }
  constexpr Phasor& operator+=(Phasor other) { return re += other.re, im += other.im, *this; }

  friend constexpr Phasor operator+(Phasor a, Phasor b) { return {a.re + b.re, a.im + b.im}; }
  friend constexpr Phasor operator-(Phasor a, Phasor b) { return {a.re - b.re, a.im - b.im}; }
  friend constexpr Phasor operator*(double a, Phasor b) { return {a * b.re, a * b.im}; }
  friend constexpr Phasor operator/(Phasor a, double b) { return {a.re / b, a.im / b}; }
  friend constexpr bool operator==(Phasor, Phasor) = default;
};

template <class Q, class P>
constexpr auto operator*(Phasor<Q> a, Phasor<P> b) {
  return Phasor<decltype(a.re * b.re)>{a.re * b.re - a.im * b.im, a.re * b.im + a.im * b.re};
}

/// Not a number if the divisor is zero.
template <class Q, class P>
constexpr auto operator/(Phasor<Q> a, Phasor<P> b) {
  const auto square = b.re * b.re + b.im * b.im;
  return Phasor<decltype(a.re / b.re)>{(a.re * b.re + a.im * b.im) / square,
                                       (a.im * b.re - a.re * b.im) / square};
}

template <class Q, int V, int A, int M, int S, int K>
constexpr auto operator*(Phasor<Q> a, Quantity<V, A, M, S, K> b) {
  return Phasor<decltype(a.re * b)>{a.re * b, a.im * b};
}

template <class Q>
constexpr Phasor<Q> conjugate(Phasor<Q> a) {
  return {a.re, -a.im};
}

template <class Q>
Q magnitude(Phasor<Q> a) {
  return Q{std::hypot(si_of(a.re), si_of(a.im))};
}

/// In radians, -pi to pi.
template <class Q>
double angle(Phasor<Q> a) {
  return std::atan2(si_of(a.im), si_of(a.re));
}

template <class Q>
Phasor<Q> polar(Q size, double radians) {
  return {size * std::cos(radians), size * std::sin(radians)};
}

using VoltagePhasor = Phasor<Voltage>;
using CurrentPhasor = Phasor<Current>;
using Impedance = Phasor<Resistance>;
using ImpedancePerLength = Phasor<ResistancePerLength>;

}  // namespace linewright::electrical

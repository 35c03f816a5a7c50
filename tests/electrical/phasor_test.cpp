#include "electrical/phasor.hpp"

#include <numbers>
#include <type_traits>

#include "electrical/near.hpp"

using namespace linewright;
using namespace linewright::electrical;
using namespace linewright::unit;
using linewright::testing::near;

namespace {

template <class A, class B>
concept Addable = requires(A a, B b) { a + b; };

}  // namespace

TEST_CASE("phasor: dimensions follow the arithmetic and kinds do not mix") {
  static_assert(std::is_same_v<decltype(CurrentPhasor{} * Impedance{}), VoltagePhasor>);
  static_assert(std::is_same_v<decltype(VoltagePhasor{} / Impedance{}), CurrentPhasor>);
  static_assert(std::is_same_v<decltype(ImpedancePerLength{} * Length{}), Impedance>);
  static_assert(std::is_same_v<decltype(Impedance{} / Impedance{}), Phasor<double>>);
  static_assert(Addable<CurrentPhasor, CurrentPhasor>);
  static_assert(!Addable<CurrentPhasor, VoltagePhasor>);
  static_assert(!Addable<CurrentPhasor, Current>);
  SUCCEED();
}

TEST_CASE("phasor: ohm's law by hand, 10 A at 30 degrees through 3 + j4 ohm") {
  // |Z| = 5 ohm at 53.13 degrees: 50 V at 83.13 degrees.
  const CurrentPhasor i = polar(10.0 * ampere, std::numbers::pi / 6);
  const VoltagePhasor u = i * Impedance{3.0 * ohm, 4.0 * ohm};
  CHECK(near(magnitude(u), 50.0 * volt, 1e-12));
  CHECK(angle(u) == Approx((30.0 + 53.130102) * std::numbers::pi / 180).epsilon(1e-8));
  CHECK(
      near(magnitude(u / Impedance{3.0 * ohm, 4.0 * ohm} - i) + 1.0 * ampere, 1.0 * ampere, 1e-12));
  CHECK(near(magnitude(u), magnitude(conjugate(u)), 1e-12));
}

TEST_CASE("phasor: three equal currents a third of a turn apart cancel") {
  const double third = 2 * std::numbers::pi / 3;
  CurrentPhasor sum = polar(16.0 * ampere, 0);
  sum += polar(16.0 * ampere, third);
  sum += polar(16.0 * ampere, -third);
  CHECK(magnitude(sum).in(ampere) < 1e-9);
}

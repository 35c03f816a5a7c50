#include "units/quantity.hpp"

#include <concepts>

#include <catch2/catch.hpp>

using namespace linewright;
using namespace linewright::unit;

namespace {

template <class A, class B>
concept Addable = requires(A a, B b) { a + b; };
template <class A, class B>
concept Comparable = requires(A a, B b) { a < b; };

static_assert(Addable<Voltage, Voltage>);
static_assert(!Addable<Voltage, Current>);
static_assert(!Addable<Voltage, double>);
static_assert(!Comparable<Length, Area>);
static_assert(!Addable<ActivePower, ApparentPower>);
static_assert(!Comparable<ActivePower, ReactivePower>);
static_assert(!Addable<Celsius, Celsius>);
static_assert(Addable<Celsius, TemperatureDifference>);
static_assert(!std::convertible_to<double, Current>);
static_assert(!std::convertible_to<Power, ActivePower>);

static_assert(std::same_as<decltype(volt / ampere), Resistance>);
static_assert(std::same_as<decltype(ohm * ampere), Voltage>);
static_assert(std::same_as<decltype(ampere / ampere), double>);
static_assert(std::same_as<decltype(hertz * second), double>);
static_assert(std::same_as<decltype(kilowatt * hour), Energy>);
static_assert(std::same_as<decltype(ohm_mm2_per_metre * metre / mm2), Resistance>);

static_assert((6.0 * kiloampere).in(ampere) == 6000.0);
static_assert(30.0 * milliampere < 1.0 * ampere);
static_assert(2.0 * kilowatt * (3.0 * hour) == 6.0 * kilowatt_hour);
static_assert((Celsius{70.0} - Celsius{30.0}).in(kelvin) == 40.0);

}  // namespace

TEST_CASE("quantity: the drop along 25 m of 6 mm² at 32 A is worked out in units") {
  // 0.0225 * 25 / 6 = 0.09375 ohm; times 32 A = 3 V.
  const Resistance r = 0.0225 * ohm_mm2_per_metre * (25.0 * metre) / (6.0 * mm2);
  CHECK(r.in(ohm) == Approx(0.09375));
  CHECK((r * (32.0 * ampere)).in(volt) == Approx(3.0));
}

TEST_CASE("quantity: energy over power is time") {
  // 13 kWh / 2 kW = 6.5 h
  CHECK((13.0 * kilowatt_hour / (2.0 * kilowatt)).in(hour) == Approx(6.5));
}

TEST_CASE("quantity: sums add up in place") {
  Current sum;
  sum += 10.0 * ampere;
  sum -= 4.0 * ampere;
  CHECK(sum == 6.0 * ampere);
  CHECK(-sum < Current{});
}

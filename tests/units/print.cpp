#include "units/print.hpp"

#include <cmath>
#include <limits>

#include <catch2/catch.hpp>

#include "units/read.hpp"

using namespace linewright;
using namespace linewright::unit;

TEST_CASE("print: values look as the trade writes them") {
  CHECK(print(6000.0 * ampere) == "6 kA");
  CHECK(print(0.03 * ampere) == "30 mA");
  CHECK(print(0.3 * ampere) == "300 mA");
  CHECK(print(63.0 * ampere) == "63 A");
  CHECK(print(1250.0 * ampere) == "1250 A");
  CHECK(print(16.0 * mm2) == "16 mm²");
  CHECK(print(2.5 * mm2) == "2.5 mm²");
  CHECK(print(0.4 * second) == "0.4 s");
  CHECK(print(40.0 * millisecond) == "40 ms");
  CHECK(print(1000.0 * volt) == "1000 V");
  CHECK(print(20.0 * kilovolt) == "20 kV");
  CHECK(print(0.35 * ohm) == "0.35 Ω");
  CHECK(print(1.0 * megaohm) == "1 MΩ");
  CHECK(print(120.0 * metre) == "120 m");
  CHECK(print(6.4 * kilowatt_hour) == "6.4 kWh");
  CHECK(print(100.0 * ampere_hour) == "100 Ah");
  CHECK(print(Celsius{-5.0}) == "-5 °C");
  CHECK(print(1.15 * milliohm_per_metre) == "1.15 mΩ/m");
}

TEST_CASE("print: nothing and the rounding of nothing have a plain zero") {
  CHECK(print(Current{}) == "0 A");
  CHECK(print(Area{}) == "0 mm²");
  CHECK(print(Energy{}) == "0 Wh");
  CHECK(print_rounded(Current{}) == "0 A");
  CHECK(print_number(-0.001, 2) == "0");
  CHECK(print_number(1.50, 2) == "1.5");
}

TEST_CASE("print: what no site can have is still printed, not stumbled over") {
  CHECK(print_rounded(6600e300 * ampere).ends_with(" kA"));
  CHECK(print(std::numeric_limits<double>::infinity() * ampere) == "inf A");
  CHECK(print_rounded(std::numeric_limits<double>::quiet_NaN() * ampere) == "? A");
}

TEST_CASE("print: computed values are rounded, given ones are whole in messages") {
  CHECK(print_rounded(400.0 / std::sqrt(3.0) * volt) == "230.9 V");
  CHECK(print_rounded(23.8476 * volt, 3) == "23.8 V");
  CHECK(fmt::format("{} > {}", 400.0 / std::sqrt(3.0) * volt, 12500.0 * ampere) ==
        "230.9 V > 12.5 kA");
  CHECK(fmt::format("{}", 16.0 * mm2) == "16 mm²");
}

namespace {

template <class Q>
void reads_back(double number) {
  const Q value = units::from_si<Q>(number);
  const std::string text = print(value);
  CAPTURE(text);
  CHECK(read_quantity<Q>(text) == value);
}

}  // namespace

TEST_CASE("print: what is printed reads back to the same value") {
  const double mantissa = GENERATE(take(200, random(1.0, 10.0)));
  const int exponent = GENERATE(-9, -3, 0, 4, 9, 12);
  const double number = mantissa * std::pow(10.0, exponent);
  reads_back<Current>(number);
  reads_back<Area>(number);
  reads_back<Energy>(number);
  reads_back<Time>(number);
  reads_back<Celsius>(number);
  reads_back<Resistivity>(number);
}

TEST_CASE("print: short numbers stay short when read and printed again") {
  const int number = GENERATE(take(300, random(1, 9999)));
  const char* unit = GENERATE("A", "mA", "kA");
  const std::string text = fmt::format("{}.{} {}", number / 10, number % 10, unit);
  CAPTURE(text);
  CHECK(print(*read_quantity<Current>(text)).size() <= text.size() + 2);
}

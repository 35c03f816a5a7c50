#include "units/read.hpp"

#include <string>

#include <catch2/catch.hpp>

using namespace linewright;
using namespace linewright::unit;

namespace {

template <class Q>
std::string message(std::string_view text) {
  const Result<Q> result = read_quantity<Q>(text);
  REQUIRE_FALSE(result.has_value());
  return result.error().message;
}

}  // namespace

TEST_CASE("read: the ways to write one value are read alike") {
  for (const char* text : {"16 mm²", "16mm2", "16 mm^2", "16.0 mm²", " 16  mm2 ", "16\u00a0mm²"}) {
    CAPTURE(text);
    CHECK(read_quantity<Area>(text) == 16.0 * mm2);
  }
  for (const char* text : {"38 Ω", "38 ohm", "38 Ohm", "38 R", "38 \u2126", "38Ω", "0.038 kΩ"}) {
    CAPTURE(text);
    CHECK(read_quantity<Resistance>(text)->in(ohm) == Approx(38.0));
  }
}

TEST_CASE("read: every kind has its units") {
  CHECK(read_quantity<Current>("6 kA") == 6.0 * kiloampere);
  CHECK(read_quantity<Current>("30 mA") == 30.0 * milliampere);
  CHECK(read_quantity<Voltage>("230 V") == 230.0 * volt);
  CHECK(read_quantity<Time>("0.3 s") == 0.3 * second);
  CHECK(read_quantity<Time>("90 min")->in(hour) == Approx(1.5));
  CHECK(read_quantity<Energy>("6.4 kWh") == 6.4 * kilowatt_hour);
  CHECK(read_quantity<Length>("14 m") == 14.0 * metre);
  CHECK(read_quantity<ApparentPower>("25 kVA") == 25.0 * kilovolt_ampere);
  CHECK(read_quantity<ActivePower>("4.9 kWp") == 4.9 * kilowatt);
  CHECK(read_quantity<ReactivePower>("-3 kvar") == -3.0 * kilovar);
  CHECK(read_quantity<Frequency>("50 Hz") == 50.0 * hertz);
  CHECK(read_quantity<Capacity>("100 Ah") == 100.0 * ampere_hour);
  CHECK(read_quantity<Celsius>("-5 °C") == Celsius{-5.0});
  CHECK(read_quantity<TemperatureDifference>("40 K") == 40.0 * kelvin);
  CHECK(read_quantity<Resistivity>("100 Ω·m") == 100.0 * ohm_metre);
  CHECK(read_quantity<ResistancePerLength>("1.15 Ω/km") == 1.15 * milliohm_per_metre);
  CHECK(read_quantity<Capacitance>("10 µF") == 10.0 * microfarad);
  CHECK(read_quantity<LetThrough>("15000 A²s") == 15000.0 * ampere_squared_second);
}

TEST_CASE("read: a wrong dimension is named and the expected one shown") {
  CHECK(message<Current>("63 kV") ==
        "expected a current such as '63 A' or '30 mA'; 'kV' is a voltage");
  CHECK(message<ActivePower>("5 kVA") ==
        "expected an active power such as '5 kW' or '4.9 kWp'; 'kVA' is an apparent power");
  CHECK(message<Area>("16 mm") ==
        "expected a cross-section such as '16 mm²' or '16 mm2'; 'mm' is a length");
}

TEST_CASE("read: a missing or misspelt unit is not guessed") {
  CHECK(message<Current>("63") ==
        "expected a current such as '63 A' or '30 mA'; the unit is missing");
  CHECK(message<Current>("6 KA") ==
        "expected a current such as '63 A' or '30 mA'; 'KA' is written 'kA'");
  CHECK(message<Current>("6 amperes") ==
        "expected a current such as '63 A' or '30 mA'; 'amperes' is not a unit of it");
}

TEST_CASE("read: a decimal comma is refused with the way to write it") {
  CHECK(message<Time>("0,3 s") ==
        "expected a time such as '0.4 s' or '40 ms'; '0,3 s' has a decimal comma, write '0.3 s'");
  CHECK(message<Current>("1 000 A") ==
        "expected a current such as '63 A' or '30 mA'; '1 000 A' has a gap between its digits");
}

TEST_CASE("read: what is no number is no quantity") {
  for (const char* text :
       {"",       " ",      "A",     "nan A",   "inf A",    "-nan A",   "-A",
        "- 5 A",  "+5 A",   ".A",    "1e400 A", "1e-400 A", "-1e400 A", "1e308 kA",
        "1e16 A", "0x10 A", "5 A A", "1.2.3 A", "5 A\n",    "\xff 5 A"}) {
    CAPTURE(text);
    CHECK_FALSE(read_quantity<Current>(text).has_value());
  }
  CHECK_FALSE(read_quantity<Current>(std::string_view("5\0A", 3)).has_value());
}

TEST_CASE("read: an impossible value is refused") {
  CHECK(message<Length>("-1 m") == "expected a length such as '14 m'; '-1 m' is negative");
  CHECK(message<Frequency>("0 Hz") == "expected a frequency such as '50 Hz'; '0 Hz' is zero");
  CHECK(message<Celsius>("-274 °C") ==
        "expected a temperature such as '30 °C'; '-274 °C' is below absolute zero");
  CHECK(read_quantity<Celsius>("-273.15 °C").has_value());
  CHECK(read_quantity<Length>("0 m") == Length{});
}

TEST_CASE("read: a share is a percentage or a fraction of one") {
  CHECK(read_share("90 %") == 0.9);
  CHECK(read_share("0.9") == 0.9);
  CHECK(read_share("100%") == 1.0);
  CHECK_FALSE(read_share("90").has_value());
  CHECK_FALSE(read_share("101 %").has_value());
  CHECK_FALSE(read_share("-1 %").has_value());
  CHECK_FALSE(read_share("9 A").has_value());
}

TEST_CASE("read: counts are decimal whatever YAML thinks of a leading zero") {
  CHECK(read_count("010") == 10);
  CHECK(read_count("0") == 0);
  CHECK_FALSE(read_count("").has_value());
  CHECK_FALSE(read_count("-1").has_value());
  CHECK_FALSE(read_count("1.5").has_value());
  CHECK_FALSE(read_count("99999999999").has_value());
}

TEST_CASE("read: a plain number has nothing behind it") {
  CHECK(read_number("-0.35") == -0.35);
  CHECK_FALSE(read_number("5 A").has_value());
  CHECK_FALSE(read_number("nan").has_value());
}

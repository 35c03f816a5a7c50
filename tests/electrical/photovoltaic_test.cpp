#include "electrical/photovoltaic.hpp"

#include "electrical/near.hpp"

using namespace linewright;
using namespace linewright::electrical;
using namespace linewright::unit;
using linewright::testing::near;

namespace {

constexpr PerKelvin a_kelvin(double percent) {
  return percent / 100.0 * per_kelvin;
}

}  // namespace

TEST_CASE("photovoltaic: a published string of 18 in the cold and the warm") {
  // 49.5 V, -0.28 %/K, -5 degrees, 1000 V: 53.66 V, 18 modules; 41.2 V at 45 degrees: 38.9 V, 700 V
  // in all. (The source takes air for cells and the open-circuit coefficient for both; the
  // arithmetic holds.)
  const Voltage cold = at_cell_temperature(49.5 * volt, a_kelvin(-0.28), {-5.0});
  CHECK(near(cold, 53.66 * volt, 0.0002));
  CHECK(*most_in_series(1000.0 * volt, cold) == 18);
  const Voltage warm = at_cell_temperature(41.2 * volt, a_kelvin(-0.28), {45.0});
  CHECK(near(warm, 38.9 * volt, 0.0005));
  CHECK(near(18.0 * warm, 700.0 * volt, 0.0005));
}

TEST_CASE("photovoltaic: a worksheet with coefficients in volts a kelvin") {
  // 45.8 V, 0.13 V/K, 0 degrees: 49.05 V. 35.4 V, 0.16 V/K, 55 degrees: 30.6 V; 36.4 V, 0.17 V/K,
  // 70: 28.75 V.
  const auto at = [](double volts, double volts_a_kelvin, double degrees) {
    const PerKelvin beta = -volts_a_kelvin * volt / (1.0 * kelvin) / (volts * volt);
    return at_cell_temperature(volts * volt, beta, {degrees});
  };
  CHECK(near(at(45.8, 0.13, 0), 49.05 * volt, 1e-9));
  CHECK(near(at(35.4, 0.16, 55), 30.6 * volt, 1e-9));
  CHECK(near(at(36.4, 0.17, 70), 28.75 * volt, 1e-9));
}

TEST_CASE("photovoltaic: a published sheet that is wrong is not reproduced") {
  // It prints 55.03 V for 50.8 V, 0.26 %/K, "12 degrees", from 20 degrees. Cells are rated at 25:
  // at -12 degrees 55.69 V, and 10 modules on 600 V, not 11.
  const Voltage cold = at_cell_temperature(50.8 * volt, a_kelvin(-0.26), {-12.0});
  CHECK(near(cold, 55.69 * volt, 0.0002));
  CHECK(*most_in_series(600.0 * volt, cold) == 10);
}

TEST_CASE("photovoltaic: factors for the cold without a coefficient") {
  CHECK(*cold_voltage_factor({24.0}) == 1.02);
  CHECK(*cold_voltage_factor({0.0}) == 1.10);
  CHECK(*cold_voltage_factor({-0.1}) == 1.12);
  CHECK(*cold_voltage_factor({-40.0}) == 1.25);
  CHECK(!cold_voltage_factor({-40.1}));
  double before = 1.0;
  for (double t = 30; t >= -40; t -= 0.5) {
    CHECK(*cold_voltage_factor({t}) >= before);
    before = *cold_voltage_factor({t});
  }
}

TEST_CASE("photovoltaic: whole modules, each side of the limit") {
  CHECK(*most_in_series(1000.0 * volt, 50.0 * volt) == 20);
  CHECK(*most_in_series(1000.0 * volt, 50.01 * volt) == 19);
  CHECK(*fewest_in_series(200.0 * volt, 25.0 * volt) == 8);
  CHECK(*fewest_in_series(200.1 * volt, 25.0 * volt) == 9);
  CHECK(!most_in_series(1000.0 * volt, 0.0 * volt));
  CHECK(!most_in_series(1000.0 * volt, 1e-6 * volt));
  CHECK(!fewest_in_series(-1.0 * volt, 25.0 * volt - 26.0 * volt));
}

TEST_CASE("photovoltaic: published fuses of four strings") {
  // 12.28 A, module fuse 20 A: 36.84 A, so fuses; 18.42 < In < 29.47 A and at most 20 A: 20 A. The
  // string's voltage is misprinted (827.7; 16 x 51.7 = 827.2 V). Another guide: 4 strings of 5 A:
  // 15 A.
  CHECK(near(reverse_current(4, 12.28 * ampere), 36.84 * ampere, 1e-9));
  CHECK(near(reverse_current(4, 5.0 * ampere), 15.0 * ampere, 1e-9));
  CHECK(reverse_current(1, 5.0 * ampere) == 0.0 * ampere);
  const Current isc = 12.28 * ampere;
  const Current module = 20.0 * ampere;
  CHECK(safe_without_fuses(iec_62548, 4, isc, module) == Judgement::fails);
  const auto fits = [&](double rated) {
    return string_fuse_fits(iec_62548, rated * ampere, isc, module);
  };
  CHECK(fits(16) == Judgement::fails);
  CHECK(fits(20) == Judgement::holds);
  CHECK(fits(25) == Judgement::fails);
  CHECK(string_fuse_fits(iec_62548, 30.0 * ampere, isc, 40.0 * ampere) == Judgement::fails);
  CHECK(string_fuse_fits(iec_60364_7_712, 30.0 * ampere, isc, 40.0 * ampere) == Judgement::holds);
}

TEST_CASE("photovoltaic: what the data sheet does not say is open, but two strings need no fuse") {
  CHECK(safe_without_fuses(iec_62548, 2, std::nullopt, std::nullopt) == Judgement::holds);
  CHECK(safe_without_fuses(iec_62548, 3, 10.0 * ampere, std::nullopt) == Judgement::unknown);
  CHECK(safe_without_fuses(iec_62548, 3, 10.0 * ampere, 20.0 * ampere) == Judgement::holds);
  CHECK(safe_without_fuses(iec_60364_7_712, 3, 10.9 * ampere, 20.0 * ampere) == Judgement::fails);
  CHECK(string_fuse_fits(iec_62548, 15.0 * ampere, 9.0 * ampere, std::nullopt) ==
        Judgement::unknown);
}

#include "electrical/source_impedance.hpp"

#include "electrical/near.hpp"
#include "electrical/short_circuit.hpp"

using namespace linewright;
using namespace linewright::electrical;
using namespace linewright::unit;
using linewright::testing::near;

TEST_CASE("sources: transformers by short-circuit voltage, without correction") {
  // Installation guide: 400 kVA, 420 V, 4 %: 550 A, 13.7 kA (1 %). A sheet: 1000 kVA, 6 %: 1375 A,
  // 22.91 kA (0.1 %).
  const auto fault = [](ApparentPower rated, double u) {
    const auto z = transformer_impedance({420.0 * volt, rated, u, {}, 1.0});
    return three_phase_fault(1.0, 420.0 * volt, *z);
  };
  CHECK(near(rated_current(400.0 * kilovolt_ampere, 420.0 * volt), 550.0 * ampere, 0.01));
  CHECK(near(fault(400.0 * kilovolt_ampere, 0.04), 13.7 * kiloampere, 0.01));
  CHECK(near(rated_current(1000.0 * kilovolt_ampere, 420.0 * volt), 1375.0 * ampere, 0.001));
  CHECK(near(fault(1000.0 * kilovolt_ampere, 0.06), 22.91 * kiloampere, 0.001));
}

TEST_CASE("sources: losses turn the impedance, the correction scales it") {
  // 400 kVA, 400 V, 4 %, 4.6 kW: Z = 16 mohm, R = 4.6 mohm, X = sqrt(256 - 21.16) = 15.32 mohm;
  // x = 0.0383, K = 0.95 x 1.05 / (1 + 0.6 x 0.0383) = 0.9751.
  const Transformer plain{400.0 * volt, 400.0 * kilovolt_ampere, 0.04, 4.6 * kilowatt, 1.0};
  const Impedance z = *transformer_impedance(plain);
  CHECK(near(z.re, 4.6 * milliohm, 1e-9));
  CHECK(near(z.im, 15.324 * milliohm, 1e-4));
  Transformer corrected = plain;
  corrected.c_max = 1.05;
  CHECK(near(magnitude(*transformer_impedance(corrected)), 0.9751 * 16.0 * milliohm, 1e-4));
  Transformer wrong = plain;
  wrong.load_loss = 17.0 * kilowatt;
  CHECK(!transformer_impedance(wrong));
  wrong = plain;
  wrong.short_circuit = 4.0;
  CHECK(!transformer_impedance(wrong));
}

TEST_CASE("sources: a network gives back the current it was declared with") {
  const auto z = network_impedance({400.0 * volt, 10.0 * kiloampere, 3.0, 1.05});
  REQUIRE(z);
  CHECK(near(three_phase_fault(1.05, 400.0 * volt, *z), 10.0 * kiloampere, 1e-9));
  CHECK(z->im / z->re == Approx(3.0));
  CHECK(!network_impedance({400.0 * volt, 0.0 * ampere, 3.0, 1.05}));
  CHECK(!network_impedance({400.0 * volt, 1.0 * ampere, -1.0, 1.05}));
}

TEST_CASE("sources: generators by their reactances") {
  // A design guide: 15 MVA, 10 kV, 20 %: 866 A, 4.33 kA.
  const auto big = machine_current({10.0 * kilovolt, 15000.0 * kilovolt_ampere, 0.20});
  CHECK(near(*big, 4.33 * kiloampere, 0.001));
  // A trade article: 0.14 gives 7.1 In, 0.122 8.2 In, 0.157 6.4 In, 0.09 11.1 In.
  const Voltage u = 400.0 * volt;
  const ApparentPower s = 1150.0 * kilovolt_ampere;
  for (const auto& [x, multiple] :
       {std::pair{0.14, 7.1}, {0.122, 8.2}, {0.157, 6.4}, {0.09, 11.1}}) {
    const double found = *machine_current({u, s, x}) / rated_current(s, u);
    CHECK(found == Approx(multiple).epsilon(0.007));
    const auto z = machine_impedance({u, s, x});
    CHECK(near(three_phase_fault(1.0, u, *z), *machine_current({u, s, x}), 0.012));
  }
  CHECK(!machine_current({u, s, 0.0}));
}

TEST_CASE("sources: what is left of a generator's fault current, if anybody says") {
  const Current rated = 100.0 * ampere;
  CHECK(near(*steady_current({rated, 3.0, 2.5}), 300.0 * ampere, 1e-12));
  CHECK(near(*steady_current({rated, std::nullopt, 2.5}), 40.0 * ampere, 1e-12));
  CHECK(!steady_current({rated, std::nullopt, std::nullopt}));
  CHECK(!steady_current({rated, std::nullopt, 0.0}));
}

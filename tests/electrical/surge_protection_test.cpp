#include "electrical/surge_protection.hpp"

#include "electrical/near.hpp"

using namespace linewright;
using namespace linewright::electrical;
using namespace linewright::unit;
using linewright::testing::near;

TEST_CASE("surge protection: the critical length by hand") {
  // Two strokes a square kilometre and year: 57.5, 100 and 225 m.
  CHECK(near(*critical_length(PvPremises::dwelling, {2.0}), 57.5 * metre, 1e-9));
  CHECK(near(*critical_length(PvPremises::ground_mounted, {2.0}), 100.0 * metre, 1e-9));
  CHECK(near(*critical_length(PvPremises::service_building, {2.0}), 225.0 * metre, 1e-9));
  CHECK(*critical_length(PvPremises::dwelling, {3.0}) <
        *critical_length(PvPremises::dwelling, {2.0}));
  CHECK(!critical_length(PvPremises::dwelling, {0.0}));
}

TEST_CASE("surge protection: leads of half a metre, not a centimetre more") {
  CHECK(leads_short_enough(0.5 * metre) == Judgement::holds);
  CHECK(leads_short_enough(0.51 * metre) == Judgement::fails);
  CHECK(leads_short_enough(std::nullopt) == Judgement::unknown);
  CHECK(near(effective_protection_level(1.5 * kilovolt, 0.5 * metre), 2.0 * kilovolt, 1e-9));
}

TEST_CASE("surge protection: what a protector must bear for good") {
  CHECK(near(lowest_continuous_voltage(SpdConnection::line_to_neutral, 230.0 * volt), 253.0 * volt,
             1e-9));
  CHECK(near(lowest_continuous_voltage(SpdConnection::line_to_earth, 230.0 * volt), 253.0 * volt,
             1e-9));
  CHECK(near(lowest_continuous_voltage(SpdConnection::line_to_earth_floating, 230.0 * volt),
             438.2 * volt, 1e-3));
}

TEST_CASE("surge protection: the fuse ahead") {
  CHECK(back_up_fuse_fits(125.0 * ampere, 125.0 * ampere) == Judgement::holds);
  CHECK(back_up_fuse_fits(160.0 * ampere, 125.0 * ampere) == Judgement::fails);
  CHECK(back_up_fuse_fits(160.0 * ampere, std::nullopt) == Judgement::unknown);
}

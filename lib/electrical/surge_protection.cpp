#include "electrical/surge_protection.hpp"

#include <numbers>

namespace linewright::electrical {

Result<Length> critical_length(PvPremises premises, FlashDensity density) {
  const double ng = density.per_km2_year;
  if (!(ng > 0.0)) return fail("a density of strokes must be above 0");
  double metres = 450.0;
  if (premises == PvPremises::dwelling) metres = 115.0;
  if (premises == PvPremises::ground_mounted) metres = 200.0;
  return metres / ng * unit::metre;
}

Judgement leads_short_enough(std::optional<Length> leads) {
  return at_most<Length>(leads, 0.5 * unit::metre);
}

Voltage effective_protection_level(Voltage protection_level, Length leads) {
  const auto along_leads = 1.0 * unit::kilovolt / (1.0 * unit::metre);
  return protection_level + along_leads * leads;
}

Voltage lowest_continuous_voltage(SpdConnection connection, Voltage line_to_neutral) {
  const double span =
      connection == SpdConnection::line_to_earth_floating ? std::numbers::sqrt3 : 1.0;
  return 1.1 * span * line_to_neutral;
}

Judgement back_up_fuse_fits(std::optional<Current> ahead, std::optional<Current> allowed) {
  return at_most(ahead, allowed);
}

}  // namespace linewright::electrical

#include "electrical/motor_start.hpp"

#include <algorithm>
#include <cmath>

namespace linewright::electrical {

Result<double> start_dip(const MotorStart& in) {
  if (!(in.to_neutral.si > 0.0)) return fail("a voltage must be above 0");
  if (!(in.at_full_voltage.si > 0.0)) return fail("a starting current must be above 0");
  if (!(in.cos_phi >= 0.0 && in.cos_phi <= 1.0)) return fail("cos phi lies within 0 and 1");
  const Impedance motor = polar(in.to_neutral / in.at_full_voltage, std::acos(in.cos_phi));
  return 1.0 - magnitude(motor / (motor + in.source));
}

ApparentPower highest_with_one_start(std::span<const StartingLoad> loads) {
  ApparentPower running{};
  ApparentPower most_on_top{};
  for (const StartingLoad& load : loads) {
    running += load.running;
    most_on_top = std::max(most_on_top, load.starting - load.running);
  }
  return running + most_on_top;
}

}  // namespace linewright::electrical

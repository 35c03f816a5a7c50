#include "electrical/derating.hpp"

#include <algorithm>

namespace linewright::electrical {

Result<double> derating_factor(const Derating& derating, Length height, Celsius air) {
  if (!(derating.height_step.si > 0.0 && derating.air_step.si > 0.0))
    return fail("a step of derating must be above 0");
  const double heights = std::max(0.0, (height - derating.height_from) / derating.height_step);
  const double airs = std::max(0.0, (air - derating.air_from) / derating.air_step);
  const double by_height = 1.0 - heights * derating.loss_a_height_step;
  const double by_air = 1.0 - airs * derating.loss_an_air_step;
  if (!(by_height > 0.0 && by_air > 0.0)) return fail("so high or so hot nothing would be left");
  return by_height * by_air;
}

}  // namespace linewright::electrical

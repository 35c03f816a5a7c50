#include "electrical/demand.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <vector>

namespace linewright::electrical {

Result<CurrentPhasor> load_current(ActivePower power, double cos_phi, VoltagePhasor across) {
  if (!(cos_phi > 0.0 && cos_phi <= 1.0)) return fail("cos phi lies above 0 and up to 1");
  if (!(magnitude(across).si > 0.0)) return fail("a voltage must not be 0");
  const double tan_phi = std::sqrt(1.0 - cos_phi * cos_phi) / cos_phi;
  const Phasor<Power> apparent{power.base, tan_phi * power.base};
  return conjugate(apparent / across);
}

LineCurrents& LineCurrents::operator+=(const LineCurrents& other) {
  for (std::size_t k = 0; k < line.size(); ++k) {
    line.at(k) += other.line.at(k);
    third_harmonic.at(k) += other.third_harmonic.at(k);
  }
  return *this;
}

Current neutral_current(const LineCurrents& currents) {
  const auto& [i1, i2, i3] = currents.line;
  const auto& [h1, h2, h3] = currents.third_harmonic;
  return Current{std::hypot(magnitude(i1 + i2 + i3).si, (h1 + h2 + h3).si)};
}

Current unbalance(const LineCurrents& currents) {
  std::array<Current, 3> size{};
  for (std::size_t k = 0; k < size.size(); ++k)
    size.at(k) =
        Current{std::hypot(magnitude(currents.line.at(k)).si, currents.third_harmonic.at(k).si)};
  const auto [least, most] = std::minmax_element(size.begin(), size.end());
  return *most - *least;
}

Current diversified(std::span<const Current> currents, const Diversity& diversity) {
  std::vector<Current> falling(currents.begin(), currents.end());
  std::sort(falling.begin(), falling.end(), std::greater<>{});
  Current sum{};
  for (std::size_t k = 0; k < falling.size(); ++k) {
    const double share = k == 0 ? diversity.first : k == 1 ? diversity.second : diversity.rest;
    sum += share * falling[k];
  }
  return sum;
}

Current cooker_demand(Current rated, CookerControl control) {
  const Current first = 10.0 * unit::ampere;
  const Current socket = (control == CookerControl::with_socket ? 5.0 : 0.0) * unit::ampere;
  return std::min(rated, first) + 0.3 * std::max(Current{}, rated - first) + socket;
}

Result<double> riser_factor(int consumers) {
  struct Step {
    int from;
    double factor;
  };
  constexpr std::array<Step, 10> steps{{{1, 1.0},
                                        {5, 0.78},
                                        {10, 0.63},
                                        {15, 0.53},
                                        {20, 0.49},
                                        {25, 0.46},
                                        {30, 0.44},
                                        {35, 0.42},
                                        {40, 0.41},
                                        {50, 0.40}}};
  if (consumers < 1) return fail("a riser has at least one consumer");
  double factor = 1.0;
  for (const Step& step : steps) {
    if (consumers >= step.from) factor = step.factor;
  }
  return factor;
}

}  // namespace linewright::electrical

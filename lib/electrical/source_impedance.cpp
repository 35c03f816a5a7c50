#include "electrical/source_impedance.hpp"

#include <cmath>
#include <numbers>

namespace linewright::electrical {
namespace {

using std::numbers::sqrt3;

}  // namespace

Impedance impedance(Resistance size, double x_over_r) {
  const Resistance r = size / std::sqrt(1.0 + x_over_r * x_over_r);
  return {r, x_over_r * r};
}

Result<Impedance> network_impedance(const DeclaredNetwork& in) {
  if (!(in.line_voltage.si > 0.0)) return fail("a line voltage must be above 0");
  if (!(in.three_phase.si > 0.0)) return fail("a prospective current must be above 0");
  if (!(in.x_over_r >= 0.0)) return fail("X/R is not below 0");
  if (!(in.c > 0.0)) return fail("a voltage factor must be above 0");
  return impedance(in.c * in.line_voltage / (sqrt3 * in.three_phase), in.x_over_r);
}

Result<Impedance> transformer_impedance(const Transformer& in) {
  if (!(in.line_voltage.si > 0.0)) return fail("a line voltage must be above 0");
  if (!(in.rated.base.si > 0.0)) return fail("a rated power must be above 0");
  if (!(in.short_circuit > 0.0 && in.short_circuit < 1.0))
    return fail("a short-circuit voltage lies within 0 and 1");
  if (!(in.load_loss.base.si >= 0.0)) return fail("losses are not below 0");
  if (!(in.c_max > 0.0)) return fail("a voltage factor must be above 0");
  const Resistance base = in.line_voltage * in.line_voltage / in.rated.base;
  const double r = in.load_loss.base / in.rated.base;
  const double square = in.short_circuit * in.short_circuit - r * r;
  if (!(square >= 0.0)) return fail("the losses are more than the short-circuit voltage allows");
  const double x = std::sqrt(square);
  const double k = in.c_max == 1.0 ? 1.0 : 0.95 * in.c_max / (1.0 + 0.6 * x);
  return Impedance{k * r * base, k * x * base};
}

Result<Impedance> machine_impedance(const Machine& in) {
  if (!(in.line_voltage.si > 0.0)) return fail("a line voltage must be above 0");
  if (!(in.rated.base.si > 0.0)) return fail("a rated power must be above 0");
  if (!(in.reactance > 0.0)) return fail("a reactance must be above 0");
  const Resistance x = in.reactance * (in.line_voltage * in.line_voltage / in.rated.base);
  return Impedance{0.15 * x, x};
}

Result<Current> machine_current(const Machine& in) {
  if (const auto z = machine_impedance(in); !z) return tl::unexpected(z.error());
  return rated_current(in.rated, in.line_voltage) / in.reactance;
}

std::optional<Current> steady_current(const SteadyMachine& in) {
  if (in.boost) return *in.boost * in.rated;
  if (in.synchronous && *in.synchronous > 0.0) return in.rated / *in.synchronous;
  return std::nullopt;
}

Current rated_current(ApparentPower three_phase, Voltage line_voltage) {
  return three_phase.base / (sqrt3 * line_voltage);
}

}  // namespace linewright::electrical

#include "electrical/disconnection.hpp"

#include <limits>

namespace linewright::electrical {
namespace {

constexpr double no_limit = std::numeric_limits<double>::infinity();

/// A line of Table 41.1 in seconds.
struct Limits {
  double tn_ac, tn_dc, tt_ac, tt_dc;
};

constexpr Limits limits(double u0) {
  if (u0 <= 50.0) return {no_limit, no_limit, no_limit, no_limit};
  if (u0 <= 120.0) return {0.8, no_limit, 0.3, no_limit};
  if (u0 <= 230.0) return {0.4, 1.0, 0.2, 0.4};
  if (u0 <= 400.0) return {0.2, 0.4, 0.07, 0.2};
  return {0.1, 0.1, 0.04, 0.1};
}

}  // namespace

Result<Time> disconnection_limit(const DisconnectionCase& in) {
  if (!(in.to_earth.si > 0.0)) return fail("a voltage to earth must be above 0");
  const Limits line = limits(in.to_earth.in(unit::volt));
  const bool tn = in.path == FaultPath::tn;
  const bool direct = in.current == CurrentKind::direct;
  const double alternating = tn ? line.tn_ac : line.tt_ac;
  const double limit = direct ? (tn ? line.tn_dc : line.tt_dc) : alternating;
  if (limit == no_limit || in.circuit == CircuitKind::final_circuit) return limit * unit::second;
  return (tn ? 5.0 : 1.0) * unit::second;
}

Resistance highest_loop_impedance(double c, Voltage to_earth, Current operating) {
  return c * to_earth / operating;
}

Judgement disconnects(double c, Voltage to_earth, std::optional<Impedance> loop,
                      std::optional<Current> operating) {
  if (!loop || !operating) return Judgement::unknown;
  return judged(magnitude(*loop) <= highest_loop_impedance(c, to_earth, *operating));
}

Resistance highest_electrode_resistance(Voltage touch, Current rated_residual) {
  return touch / rated_residual;
}

Result<Current> conventional_loop_current(const ConventionalLoop& in) {
  if (!(in.to_earth.si > 0.0)) return fail("a voltage to earth must be above 0");
  if (!(in.resistivity.si > 0.0)) return fail("a resistivity must be above 0");
  if (!(in.length.si > 0.0)) return fail("a length must be above 0");
  if (!(in.line.si > 0.0)) return fail("a cross-section must be above 0");
  if (!(in.m >= 0.0)) return fail("a ratio of sections is not below 0");
  if (!(in.reactance_factor >= 1.0)) return fail("reactance does not lower an impedance");
  const Resistance loop =
      in.reactance_factor * (1.0 + in.m) * (in.resistivity * in.length / in.line);
  return 0.8 * in.to_earth / loop;
}

}  // namespace linewright::electrical

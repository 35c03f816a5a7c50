#include "electrical/residual.hpp"

#include <array>
#include <limits>

namespace linewright::electrical {
namespace {

/// One test current with its limits in seconds.
struct Gate {
  double multiple;
  double most_general;
  double most_selective;
  double least_selective;
};

constexpr std::array<Gate, 3> gates{
    {{1.0, 0.30, 0.50, 0.13}, {2.0, 0.15, 0.20, 0.06}, {5.0, 0.04, 0.15, 0.05}}};
constexpr Time never{std::numeric_limits<double>::infinity()};
// Above 500 A type S need not wait longer than this.
constexpr double least_at_500_amperes = 0.04;

}  // namespace

Bounds<Time> rcd_time(RcdDelay delay, Current rated_residual, Current residual) {
  const double multiple = residual / rated_residual;
  if (!(multiple > 0.5)) return {never, never};
  const bool selective = delay == RcdDelay::selective;
  const double rounded_up = multiple * (1.0 + 1e-9);
  Bounds<Time> time{{selective ? least_at_500_amperes : 0.0}, never};
  for (const Gate& gate : gates) {
    if (rounded_up >= gate.multiple)
      time.most = (selective ? gate.most_selective : gate.most_general) * unit::second;
  }
  for (auto gate = gates.rbegin(); selective && gate != gates.rend(); ++gate) {
    if (multiple <= gate->multiple * (1.0 + 1e-9))
      time.least = gate->least_selective * unit::second;
  }
  return time;
}

Judgement rcds_discriminate(const Rcd& upstream, const Rcd& downstream) {
  Judgement sensitivity{};
  if (upstream.rated_residual && downstream.rated_residual)
    sensitivity =
        judged(upstream.rated_residual->si >= 3.0 * downstream.rated_residual->si * (1.0 - 1e-9));
  Judgement delayed{};
  if (upstream.delay) delayed = judged(*upstream.delay == RcdDelay::selective);
  Judgement prompt{};
  if (downstream.delay) prompt = judged(*downstream.delay == RcdDelay::none);
  return both(sensitivity, both(delayed, prompt));
}

}  // namespace linewright::electrical

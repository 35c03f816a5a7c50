// The three answers to "does it hold": what nobody knows is never a yes.
#pragma once

#include <optional>

namespace linewright::electrical {

/// Whether a condition holds. The default is unknown, so that what was left out passes nothing.
enum class Judgement { unknown, holds, fails };

constexpr Judgement judged(bool holds) {
  return holds ? Judgement::holds : Judgement::fails;
}

/// Both must hold: one that fails decides, one that is unknown keeps the answer open.
constexpr Judgement both(Judgement a, Judgement b) {
  if (a == Judgement::fails || b == Judgement::fails) return Judgement::fails;
  if (a == Judgement::unknown || b == Judgement::unknown) return Judgement::unknown;
  return Judgement::holds;
}

/// One is enough: one that holds decides, one that is unknown keeps the answer open.
constexpr Judgement either(Judgement a, Judgement b) {
  if (a == Judgement::holds || b == Judgement::holds) return Judgement::holds;
  if (a == Judgement::unknown || b == Judgement::unknown) return Judgement::unknown;
  return Judgement::fails;
}

/// Whether one size is not above another; what was computed to be equal is, despite rounding.
template <class Q>
constexpr Judgement at_most(const std::optional<Q>& size, const std::optional<Q>& limit) {
  if (!size || !limit) return Judgement::unknown;
  return judged(*size <= (1.0 + 1e-9) * *limit);
}

/// Two ends between which a value lies, where a standard gives a band and not a curve.
template <class Q>
struct Bounds {
  Q least{};
  Q most{};

  friend constexpr bool operator==(const Bounds&, const Bounds&) = default;
};

}  // namespace linewright::electrical

#include "electrical/discrimination.hpp"

namespace linewright::electrical {

Judgement discriminates(std::optional<Current> published_limit,
                        std::optional<Current> prospective) {
  if (!published_limit || !prospective) return Judgement::unknown;
  return judged(*prospective <= *published_limit);
}

Judgement fuses_discriminate(std::optional<Current> upstream, std::optional<Current> downstream) {
  if (!upstream || !downstream) return Judgement::unknown;
  if (*upstream <= *downstream) return Judgement::fails;
  // Ratings are rounded members of a series: 100 A over 63 A counts as 1.6.
  const bool wide = *upstream / *downstream >= 1.6 * 0.99;
  return wide && *downstream >= 16.0 * unit::ampere ? Judgement::holds : Judgement::unknown;
}

}  // namespace linewright::electrical

// Whether of two overcurrent devices in series only the nearer one opens.
#pragma once

#include <optional>

#include "electrical/judgement.hpp"
#include "units/quantity.hpp"

namespace linewright::electrical {

/// Breakers, and fuses with breakers: only the makers' tables tell. Up to the published current it
/// holds, above it fails; without a table it is unknown. An infinite limit is full discrimination.
/// Source: IEC 60364-5-53, 536.4.1.
Judgement discriminates(std::optional<Current> published_limit, std::optional<Current> prospective);

/// Two gG links: from a ratio of 1.6 on, for 16 A and more, the standard's gates see to it. A
/// smaller one upstream fails; what lies between is for the makers' curves. Source: IEC 60269-2
/// (from memory).
Judgement fuses_discriminate(std::optional<Current> upstream, std::optional<Current> downstream);

}  // namespace linewright::electrical

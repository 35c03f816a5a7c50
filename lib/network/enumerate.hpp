// The plain second way: every allowed situation looked at, one by one.
#pragma once

#include <cstdint>
#include <functional>

#include "network/movement.hpp"

namespace linewright::network {

/// Calls `look` with every lasting situation that the movement and its interlocks allow, law-driven
/// contacts where their laws have them. Grows with the product of all positions: for small sites.
void each_situation(const Network& network, const site::Site& site, const Movement& movement,
                    const std::function<void(const Situation&)>& look);

}  // namespace linewright::network

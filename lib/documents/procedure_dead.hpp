// How a part of the site is made dead: what is asked of the switching, and how it ends.
#pragma once

#include "documents/moment.hpp"
#include "documents/procedure.hpp"
#include "network/isolation.hpp"

namespace linewright::documents {

/// Elements that a designation means: one, or all of an assembly that carry a line or DC.
std::vector<std::size_t> elements_named(const site::Site& site, const std::string& designation);

/// The goal of the switching: locks open, what is inside stopped, what works on a battery or PV
/// that is parted from it stopped as well.
network::Goal goal_of(const Grounds& grounds, const network::Isolation& isolation);

/// The end of the procedure in words; what is not declared goes to `open`.
DeadWork dead_work(const Grounds& grounds, const network::Isolation& isolation,
                   const std::string& part, std::vector<std::string>& open);

}  // namespace linewright::documents

// The national tables that are built in.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "check/profile.hpp"
#include "site/site.hpp"

namespace linewright::rules {

/// Names of the built-in profiles: "international" and the countries, sorted.
std::vector<std::string> profile_names();

/// The profile of that name, its country's values over the international ones; an empty name means
/// the international ones alone. Fails if there is none of that name.
Result<check::Profile> profile(std::string_view name);

/// The profile wished for, or the site's own where none is.
Result<check::Profile> profile_for(const site::Site& site, std::string_view wished);

}  // namespace linewright::rules

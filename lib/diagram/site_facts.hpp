// Where a site's neutral is joined to earth, in words.
#pragma once

#include <cstddef>
#include <string>

#include "site/site.hpp"

namespace linewright::diagram {

inline constexpr const char* not_stated = "not stated";

/// Where neutral and earth are joined in a source or by a link, and what closes the joint:
/// "fixed, in the machine", "contact, closes in island". Empty for elements that join nothing.
std::string bond_words(const site::Element& element);

/// Index of the main earthing terminal, or none.
std::size_t main_earthing_terminal(const site::Site& site);

}  // namespace linewright::diagram

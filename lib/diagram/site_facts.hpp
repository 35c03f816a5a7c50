// Supply and earthing of a site as facts in words; what the file does not say is said to be so.
#pragma once

#include <string>
#include <vector>

#include "diagram/overview.hpp"
#include "site/site.hpp"

namespace linewright::diagram {

inline constexpr const char* not_stated = "not stated";

/// The public supply, then the earthing. Nothing of a supply for a site without one.
std::vector<FactBlock> supply_facts(const site::Site& site);

/// Where neutral and earth are joined in a source or by a link, and what closes the joint:
/// "fixed, in the machine", "contact, closes in island". Empty for elements that join nothing.
std::string bond_words(const site::Element& element);

/// Index of the main earthing terminal, or none.
std::size_t main_earthing_terminal(const site::Site& site);

}  // namespace linewright::diagram

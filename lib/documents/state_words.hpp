// Words for what stands and happens in one operating state, shared by the tables of states.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "network/state_view.hpp"
#include "site/site.hpp"

namespace linewright::documents {

/// Indices of the switches that do not stand the same in all states; grid contacts of inverters,
/// which follow the rest, are left out unless asked for.
enum class GridContacts { left_out, shown };
std::vector<std::size_t> moving_switches(const network::Network& network,
                                         const std::vector<network::StateView>& states,
                                         GridContacts contacts);

/// "-Q1", or "-T1:bond" for an inner contact.
std::string switch_name(const site::Site& site, const network::Switch& device);

/// "supply" for the public supply, as the file calls it; else the designation.
std::string source_name(const site::Site& site, std::size_t element);

/// How the supply is earthed: "TN-C-S"; "?" if the file does not say.
std::string_view earthing_mark(const site::Supply& supply);

/// Words joined by " + ", each once, in order.
std::string joined(const std::vector<std::string>& words);

}  // namespace linewright::documents

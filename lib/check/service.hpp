// What a circuit is promised when the grid fails.
#pragma once

#include <cstddef>
#include <optional>

#include "check/analysed_site.hpp"

namespace linewright::check {

/// As the circuit says, else as its board says; none for what is no circuit, or where neither does.
std::optional<site::Service> promised_service(const AnalysedSite& site, std::size_t load);

/// The subject of a verdict about circuits of one board in a state: the circuit if it is one, the
/// board if they are several.
Subject about_circuits(const AnalysedSite& site, const network::StateView& state,
                       const std::vector<std::size_t>& loads);

}  // namespace linewright::check

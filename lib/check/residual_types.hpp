// Residual-current types in words, and the least one that copes with an inverter's direct current.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

#include "check/analysed_site.hpp"

namespace linewright::check {

/// "AC", "A", "F", "B".
std::string_view letter(site::ResidualType type);

/// The type of that letter, in either case, or nothing.
std::optional<site::ResidualType> residual_type(std::string_view word);

/// On which side of an inverter an RCD stands.
enum class InverterSide {
  grid,   ///< ahead of it, towards the grid
  island  ///< fed by it
};

/// The least type that an inverter leaves at work, or what the file leaves out.
struct LeastType {
  std::optional<site::ResidualType> type;
  std::string missing;  ///< where there is no type: the value with its key
};

/// AC where it is separated or its maker declares that no direct fault current comes out, so that
/// it asks for nothing; else what the maker declares for that side; else B.
LeastType least_type_for(const AnalysedSite& site, std::size_t inverter, InverterSide side);

}  // namespace linewright::check

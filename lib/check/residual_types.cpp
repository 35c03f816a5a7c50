#include "check/residual_types.hpp"

#include <fmt/core.h>

namespace linewright::check {

using site::ResidualType;

std::string_view letter(ResidualType type) {
  switch (type) {
    case ResidualType::ac:
      return "AC";
    case ResidualType::a:
      return "A";
    case ResidualType::f:
      return "F";
    case ResidualType::b:
      return "B";
  }
  return "";
}

std::optional<ResidualType> residual_type(std::string_view word) {
  if (word == "AC" || word == "ac") return ResidualType::ac;
  if (word == "A" || word == "a") return ResidualType::a;
  if (word == "F" || word == "f") return ResidualType::f;
  if (word == "B" || word == "b") return ResidualType::b;
  return std::nullopt;
}

LeastType least_type_for(const AnalysedSite& site, std::size_t inverter, InverterSide side) {
  const auto& facts = std::get<site::Inverter>(site.element(inverter).facts);
  const bool separated = facts.separation == site::Separation::simple ||
                         facts.separation == site::Separation::transformer;
  if (separated || facts.no_dc_fault_current == true) return {ResidualType::ac, {}};
  const bool island = side == InverterSide::island;
  if (const auto declared = residual_type(island ? facts.island_rcd_type : facts.declared_rcd_type))
    return {declared, {}};
  const std::string_view key = island ? "island rcd type" : "rcd type";
  if (!facts.separation)
    return {std::nullopt,
            fmt::format("separation of '{}' (separation), or what its maker declares ({})",
                        site.name(inverter), key)};
  if (!facts.no_dc_fault_current)
    return {std::nullopt, fmt::format("what the maker of '{}' declares (no dc fault current, {})",
                                      site.name(inverter), key)};
  return {ResidualType::b, {}};
}

}  // namespace linewright::check

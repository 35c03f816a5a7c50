// The figures of a site, as text for people and for programs.
#pragma once

#include <string>

#include "site/site.hpp"
#include "units/result.hpp"

namespace linewright {

/// How figures are written.
enum class FiguresFormat { text, csv, json };

/// Which figures are wanted.
struct FiguresOptions {
  std::string element;  ///< designation: of this only, with formula and source; empty: all
  FiguresFormat format = FiguresFormat::text;
};

/// Currents, capacities of cables and voltage drops in every state, each with its limit. Fails if
/// nothing has that designation.
Result<std::string> figures_of_site(const site::Site& site, const FiguresOptions& options);

}  // namespace linewright

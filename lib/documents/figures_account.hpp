// The figures of a site as a table for people, and for programs.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "figures/figure.hpp"
#include "site/site.hpp"

namespace linewright::documents {

/// The worst state of each figure, a line each, in parts: sources, boards, cables, loads; then what
/// is not known, with the missing keys.
std::string figures_text(const site::Site& site, const std::vector<figures::Figure>& all);

/// All figures of one element or cable in every state, with formula and source.
std::string figures_worked(const site::Site& site, const std::vector<figures::Figure>& all);

std::string figures_csv(const site::Site& site, const std::vector<figures::Figure>& all);
std::string figures_json(const site::Site& site, const std::vector<figures::Figure>& all);

/// Those about an element, a cable, or the load behind a device, by designation with or without its
/// sign.
std::vector<figures::Figure> figures_about(const site::Site& site,
                                           const std::vector<figures::Figure>& all,
                                           const std::string& name);

}  // namespace linewright::documents

// How figures are put in words; shared by the ways to print them.
#pragma once

#include <optional>
#include <string>

#include "figures/figure.hpp"
#include "site/site.hpp"

namespace linewright::documents {

/// "drop", "Ib <= In": what a figure says.
std::string words_of(figures::What what);
/// "-W3", "-E4 Water pump".
std::string subject_of(const site::Site& site, const figures::About& about);
/// "6.52 A", "2.1 %", or empty.
std::string words_of(const std::optional<figures::Amount>& amount);
/// What is left up to the limit, or empty.
std::string margin_of(const figures::Figure& figure);
/// "holds", "does not hold", "not known", or empty where there is no limit.
std::string verdict_of(const figures::Figure& figure);
/// "the key 'length' of -W7 is missing": why there is no value or no verdict; else empty.
std::string lack_of(const figures::Figure& figure);
/// Value over limit; 0 where one of them is missing.
double strain_of(const figures::Figure& figure);

}  // namespace linewright::documents

// Small sites made by chance, wired right or wrong alike.
#pragma once

#include "site/site.hpp"

namespace linewright::tests {

/// A site with a supply, up to two more sources, two or three busbars, switches, changeovers,
/// neutral-earth joints, loads with and without RCDs, interlocks and one or two named states,
/// joined at random. The same seed gives the same site on every machine.
site::Site random_site(unsigned seed);

/// The same with three lines, alike in most of the site: some elements and runs have only one or
/// two of them, some devices leave lines unbroken.
site::Site random_site_of_three_lines(unsigned seed);

}  // namespace linewright::tests

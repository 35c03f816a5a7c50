// Sites made by chance to be hard to draw: long names, one board with eighty feeders, eight
// inverters, boards five deep, boards and groups without circuits.
#pragma once

#include <string>

namespace linewright::tests::geometry {

/// A site file that always reads; the same number gives the same text.
std::string nasty_site(unsigned seed);

}  // namespace linewright::tests::geometry

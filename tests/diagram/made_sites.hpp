// Sites made by chance for tests of the layout: sound in form, of every size.
#pragma once

#include <string>

namespace linewright::tests {

/// A site file that always reads; the same number gives the same text.
std::string made_site(unsigned seed);

}  // namespace linewright::tests

// Sites for tests: from YAML, and as text that shows every value.
#pragma once

#include <string>
#include <string_view>

#include "site/site.hpp"

namespace linewright::tests {

/// The site of a text that must read without mistake; fails the test with the mistakes if it does
/// not.
site::Site site_from(std::string_view yaml);

/// Every value of a site but the places in the file, one thing a line: equal texts, equal sites.
std::string summary(const site::Site& site);

/// The mistakes of a text as "line:column+length message | mend", one a line; empty if none.
std::string mistakes_in(std::string_view yaml);

}  // namespace linewright::tests

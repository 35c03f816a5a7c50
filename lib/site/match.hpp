// Which thing of a new site is which of the old one.
#pragma once

#include <cstddef>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "site/site.hpp"

namespace linewright::site {

/// One version of a site. A designation that the file does not write was made up while reading, by
/// the order of the file: it says nothing of which thing it is.
struct Version {
  const Site& site;
  std::set<std::string> written;
};

/// The designations that a text writes: "-F51", "+A2".
std::set<std::string> designations_in(std::string_view text);

/// Partners by index, or `none` where the other version has none.
struct Partners {
  std::vector<std::size_t> of_old;
  std::vector<std::size_t> of_new;
};

/// Elements that are the same in both: those of one written designation; then those that only
/// differ by it; then those whose designation was made up, by name, board and neighbours.
Partners match_elements(const Version& before, const Version& after);

/// What an element is called by people: its designation if it is written, else what it is, and of
/// which neighbour or board: "load of -F51", "busbar of +A4".
std::vector<std::string> element_names(const Version& version);

}  // namespace linewright::site

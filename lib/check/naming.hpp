// How verdicts name elements.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "check/analysed_site.hpp"

namespace linewright::check {

/// "'-Q1'"; the public supply, which users need not name, is "the supply".
std::string quoted(const AnalysedSite& site, std::size_t element);

/// "'-Q1'", "'-Q1' and '-Q2'", "'-Q1', '-Q2' and '-Q3'"; each element once, in the order given.
std::string quoted(const AnalysedSite& site, const std::vector<std::size_t>& elements);

}  // namespace linewright::check

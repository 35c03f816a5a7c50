// Reads a site file: YAML text to a site, or every mistake in it.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "findings/finding.hpp"
#include "site/site.hpp"
#include "units/result.hpp"

namespace linewright::input {

/// What became of a file: the site, or the mistakes for which there is none.
struct Reading {
  std::optional<site::Site> site;
  std::vector<Mistake> mistakes;  ///< in the order of the file; empty if there is a site
};

/// Reads the text of one site file. Opens no file, throws nothing, and answers whatever the text.
Reading read_site(std::string_view yaml);

/// The same site in its explicit form: ready-made interiors, types and quantities written out,
/// every device and cable named. Reads back to an equal site. Fails where the text has mistakes.
Result<std::string> show_expanded(std::string_view yaml);

/// The JSON Schema (draft 7) of the format, for editors.
std::string_view schema();

}  // namespace linewright::input

#include "support/site_from.hpp"

#include <catch2/catch.hpp>
#include <fmt/core.h>

#include "input/read.hpp"
#include "units/ensure.hpp"

namespace linewright::tests {

std::string mistakes_in(std::string_view yaml) {
  std::string text;
  for (const Mistake& mistake : input::read_site(yaml).mistakes)
    text += fmt::format("{}:{}+{} {} | {}\n", mistake.where.line, mistake.where.column,
                        mistake.where.length, mistake.message, mistake.mend);
  return text;
}

site::Site site_from(std::string_view yaml) {
  input::Reading reading = input::read_site(yaml);
  if (!reading.site) FAIL("the site does not read:\n" << mistakes_in(yaml) << "\n" << yaml);
  ENSURE(reading.site.has_value());
  return std::move(*reading.site);
}

}  // namespace linewright::tests

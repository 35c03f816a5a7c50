#include "site/site.hpp"

namespace linewright::site {

std::size_t Site::find(std::string_view designation) const {
  for (std::size_t i = 0; i < elements.size(); ++i)
    if (elements[i].designation == designation) return i;
  return none;
}

std::size_t Site::find_terminal(std::size_t element, std::string_view terminal) const {
  const auto& names = elements.at(element).terminals;
  for (std::size_t i = 0; i < names.size(); ++i)
    if (names[i] == terminal) return i;
  return none;
}

}  // namespace linewright::site

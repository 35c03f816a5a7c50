#include "check/naming.hpp"

#include <algorithm>

namespace linewright::check {

std::string quoted(const AnalysedSite& site, std::size_t element) {
  if (site::facts<site::Supply>(site.element(element)) != nullptr) return "the supply";
  return "'" + site.name(element) + "'";
}

std::string quoted(const AnalysedSite& site, const std::vector<std::size_t>& elements) {
  std::vector<std::size_t> once;
  for (const std::size_t element : elements)
    if (std::ranges::count(once, element) == 0) once.push_back(element);
  std::string text;
  for (std::size_t i = 0; i < once.size(); ++i) {
    if (i > 0) text += i + 1 == once.size() ? " and " : ", ";
    text += quoted(site, once[i]);
  }
  return text;
}

}  // namespace linewright::check

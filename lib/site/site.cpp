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

Conductor arrives_as(const Run& run, Conductor conductor) {
  if (!run.cable || !run.cable->crossed.has(conductor)) return conductor;
  for (const Conductor other : {Conductor::l1, Conductor::l2, Conductor::l3})
    if (other != conductor && run.cable->crossed.has(other)) return other;
  return conductor;
}

}  // namespace linewright::site

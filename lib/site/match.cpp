// Passes from the surest sign to the weakest. Each gives every thing that has no partner yet a key
// and joins those of equal keys in the order of the file, so that the cost is that of sorting.
#include "site/match.hpp"

#include <algorithm>
#include <functional>
#include <map>

#include "site/properties.hpp"

namespace linewright::site {
namespace {

constexpr char between = '\x1f';  ///< stands in no name

bool is_written(const Version& version, const std::string& designation) {
  return !designation.empty() && version.written.contains(designation);
}

/// Elements beside each element, in the order of the runs.
std::vector<std::vector<std::size_t>> neighbours_of(const Site& site) {
  std::vector<std::vector<std::size_t>> beside(site.elements.size());
  for (const Run& run : site.runs) {
    beside[run.from.element].push_back(run.to.element);
    beside[run.to.element].push_back(run.from.element);
  }
  return beside;
}

std::string assembly_name(const Site& site, const Element& element) {
  return element.assembly == none ? std::string() : site.assemblies[element.assembly].designation;
}

/// The signs of one element by which it can be known again.
struct Signs {
  std::string designation;  ///< empty if made up
  std::string either;       ///< empty if made up in both versions
  std::string kind;
  std::string board;
  std::string name;
  std::string beside;  ///< written designations of its neighbours
  std::string said;    ///< all that is said of it
};

std::string said_of(const Element& element) {
  std::string words;
  const auto unnamed = [](std::size_t) { return std::string(); };
  for (const Property& property : properties_of(element.facts, unnamed))
    words += property.name + between + property.value + between;
  return words;
}

std::vector<Signs> signs_of(const Version& version, const std::set<std::string>& other) {
  const Site& site = version.site;
  const auto beside = neighbours_of(site);
  std::vector<Signs> all;
  for (std::size_t i = 0; i < site.elements.size(); ++i) {
    const Element& element = site.elements[i];
    std::vector<std::string> names;
    for (const std::size_t neighbour : beside[i])
      if (is_written(version, site.elements[neighbour].designation))
        names.push_back(site.elements[neighbour].designation);
    std::ranges::sort(names);
    Signs signs{.designation = {},
                .either = {},
                .kind = std::to_string(element.facts.index()),
                .board = assembly_name(site, element),
                .name = element.name,
                .beside = {},
                .said = said_of(element)};
    if (is_written(version, element.designation)) signs.designation = element.designation;
    if (!signs.designation.empty() || other.contains(element.designation))
      signs.either = element.designation;
    for (const std::string& name : names)
      signs.beside += name + between;
    all.push_back(std::move(signs));
  }
  // People name the circuit, not the device that it begins with.
  for (const Run& run : site.runs)
    if (facts<LoadGroup>(site.elements[run.to.element]) != nullptr &&
        all[run.from.element].name.empty())
      all[run.from.element].name = site.elements[run.to.element].name;
  return all;
}

using KeyOf = std::function<std::string(const Signs&)>;  ///< empty: not in this pass

std::map<std::string, std::vector<std::size_t>> free_by_key(const std::vector<Signs>& signs,
                                                            const std::vector<std::size_t>& partner,
                                                            const KeyOf& key_of) {
  std::map<std::string, std::vector<std::size_t>> by_key;
  for (std::size_t i = 0; i < signs.size(); ++i) {
    if (partner[i] != none) continue;
    if (std::string key = key_of(signs[i]); !key.empty()) by_key[std::move(key)].push_back(i);
  }
  return by_key;
}

void join_by(const KeyOf& key_of, const std::vector<Signs>& before, const std::vector<Signs>& after,
             Partners& partners) {
  const auto old_ones = free_by_key(before, partners.of_old, key_of);
  const auto new_ones = free_by_key(after, partners.of_new, key_of);
  for (const auto& [key, olds] : old_ones) {
    const auto found = new_ones.find(key);
    if (found == new_ones.end()) continue;
    for (std::size_t i = 0; i < std::min(olds.size(), found->second.size()); ++i) {
      partners.of_old[olds[i]] = found->second[i];
      partners.of_new[found->second[i]] = olds[i];
    }
  }
}

std::string joined(std::initializer_list<std::string_view> parts) {
  std::string key;
  for (const std::string_view part : parts)
    (key += part) += between;
  return key;
}

// What the passes compare, the surest first. Another designation that is written is another thing,
// unless all else is the same; what has neither name nor neighbour is known by its board alone.
std::vector<KeyOf> passes() {
  const auto made_up = [](bool sure, const Signs& s,
                          std::initializer_list<std::string_view> parts) {
    return s.designation.empty() && sure ? joined(parts) : std::string();
  };
  return {
      [](const Signs& s) { return s.designation; },
      [](const Signs& s) {
        return s.either.empty() ? std::string() : joined({s.kind, s.board, s.either});
      },
      [](const Signs& s) { return joined({s.kind, s.board, s.name, s.beside, s.said}); },
      [=](const Signs& s) {
        return made_up(!s.beside.empty(), s, {s.kind, s.board, s.name, s.beside});
      },
      [=](const Signs& s) { return made_up(!s.beside.empty(), s, {s.kind, s.beside}); },
      [=](const Signs& s) { return made_up(!s.name.empty(), s, {s.kind, s.board, s.name}); },
      [](const Signs& s) {
        return s.name.empty() ? std::string() : joined({s.kind, s.name, s.said});
      },
      [=](const Signs& s) { return made_up(true, s, {s.kind, s.board, s.name}); },
  };
}

/// The written designation of the first neighbour that has one, or nothing.
std::string first_written(const Version& version, const std::vector<std::size_t>& beside) {
  for (const std::size_t neighbour : beside) {
    const std::string& designation = version.site.elements[neighbour].designation;
    if (is_written(version, designation)) return designation;
  }
  return {};
}

// What people call an element whose designation nobody wrote.
std::string made_up_name(const Version& version, const Element& element,
                         const std::vector<std::size_t>& beside) {
  std::string name = kind_words(element.facts);
  const std::string circuit =
      facts<LoadGroup>(element) == nullptr ? std::string() : first_written(version, beside);
  const std::string of = circuit.empty() ? assembly_name(version.site, element) : circuit;
  if (!of.empty()) name.append(" of ").append(of);
  if (circuit.empty() && !element.name.empty()) name.append(" '").append(element.name).append("'");
  return name;
}

// Several of one name are told apart by the designations that reading gave them.
void tell_apart(const Site& site, std::vector<std::string>& names) {
  std::map<std::string, int> times;
  for (const std::string& name : names)
    ++times[name];
  for (std::size_t i = 0; i < names.size(); ++i) {
    const std::string& designation = site.elements[i].designation;
    if (times[names[i]] > 1 && names[i] != designation)
      names[i].append(" (").append(designation).append(")");
  }
}

bool begins_word(std::string_view text, std::size_t at) {
  if (at == 0) return true;
  constexpr std::string_view before = " \t\r\n[{,:('\"";
  return before.find(text[at - 1]) != std::string_view::npos;
}

bool in_designation(char c) {
  const auto byte = static_cast<unsigned char>(c);
  return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '.' ||
         c == '_' || c == '-' || byte >= 0x80U;
}

}  // namespace

std::set<std::string> designations_in(std::string_view text) {
  std::set<std::string> found;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if ((text[i] != '-' && text[i] != '+') || !begins_word(text, i)) continue;
    std::size_t end = i + 1;
    while (end < text.size() && in_designation(text[end]))
      ++end;
    std::size_t last = end;
    while (text[last - 1] == '.')  // the end of a sentence
      --last;
    if (last > i + 1) found.emplace(text.substr(i, last - i));
    i = end - 1;
  }
  return found;
}

Partners match_elements(const Version& before, const Version& after) {
  const std::vector<Signs> old_signs = signs_of(before, after.written);
  const std::vector<Signs> new_signs = signs_of(after, before.written);
  Partners partners{.of_old = std::vector<std::size_t>(old_signs.size(), none),
                    .of_new = std::vector<std::size_t>(new_signs.size(), none)};
  for (const KeyOf& key_of : passes())
    join_by(key_of, old_signs, new_signs, partners);
  return partners;
}

std::vector<std::string> element_names(const Version& version) {
  const Site& site = version.site;
  const auto beside = neighbours_of(site);
  std::vector<std::string> names;
  for (std::size_t i = 0; i < site.elements.size(); ++i) {
    const Element& element = site.elements[i];
    names.push_back(is_written(version, element.designation)
                        ? element.designation
                        : made_up_name(version, element, beside[i]));
  }
  tell_apart(site, names);
  return names;
}

}  // namespace linewright::site

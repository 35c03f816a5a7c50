#include "input/names.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <vector>

#include "input/nearest.hpp"
#include "input/words.hpp"

namespace linewright::input {
namespace {

std::string without_port(const std::string& word) {
  return word.substr(0, word.find(':'));
}

// Maps whose keys give designations to what they describe.
bool keys_define(std::string_view key) {
  constexpr std::array<std::string_view, 8> maps{"generators", "inverters", "boards",
                                                 "assemblies", "devices",   "busbars",
                                                 "electrodes", "links"};
  return std::find(maps.begin(), maps.end(), key) != maps.end();
}

}  // namespace

void Names::take_scalar(const Node& node, bool defines) {
  const std::vector<Word> words = words_of(node);
  for (std::size_t i = 0; i < words.size(); ++i) {
    const std::string name = without_port(words[i].text);
    if (is_designation(name)) {
      const bool heads_a_line = i == 0 && words.size() > 1;
      (defines || heads_a_line ? given_ : mentioned_).insert(name);
    } else if (is_bare_reference(words[i].text)) {
      mentioned_.insert("-" + name);
    }
  }
}

void Names::take_under(const Node& tree, const std::string& key) {
  if (tree.is_scalar()) take_scalar(tree, key == "id");
  for (std::size_t i = 0; i < tree.items.size(); ++i) {
    if (!tree.is_map() || i >= tree.keys.size()) {
      take_under(tree.items[i], key);
      continue;
    }
    take_scalar(tree.keys[i], keys_define(key));
    take_under(tree.items[i], plain(tree.keys[i].text));
  }
}

void Names::take_all(const Node& tree) {
  for (std::size_t i = 0; i < tree.items.size() && i < tree.keys.size(); ++i) {
    const std::string key = plain(tree.keys[i].text);
    if (key != "panel") {
      take_under(tree.items[i], key);
      continue;
    }
    for (std::size_t j = 0; j < tree.items[i].items.size(); ++j) {
      // The inverters of a panel are described elsewhere.
      const bool has_key = j < tree.items[i].keys.size();
      const std::string inner = has_key ? plain(tree.items[i].keys[j].text) : "";
      take_under(tree.items[i].items[j], inner == "inverters" ? "" : inner);
    }
  }
}

std::string Names::next(std::string_view letter) {
  int& last = last_[std::string(letter)];
  std::string designation;
  do {
    designation = "-" + std::string(letter) + std::to_string(++last);
  } while (given_.contains(designation) || mentioned_.contains(designation));
  given_.insert(designation);
  return designation;
}

std::string Names::wanted(const std::string& designation) {
  if (given_.insert(designation).second) return designation;
  std::size_t letters = 1;
  while (letters < designation.size() && (designation[letters] < '0' || designation[letters] > '9'))
    ++letters;
  return next(std::string_view(designation).substr(1, letters - 1));
}

}  // namespace linewright::input

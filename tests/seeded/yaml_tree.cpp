#include "seeded/yaml_tree.hpp"

#include <algorithm>
#include <cctype>
#include <utility>

#include <catch2/catch.hpp>

#include "input/tree.hpp"

namespace linewright::tests {

using input::Node;

Node tree_of(const std::string& yaml) {
  input::Mistakes mistakes;
  const std::optional<Node> root = input::parse_tree(yaml, mistakes);
  if (!root) FAIL("the text is no tree");
  return root.value_or(Node{});
}

const Node* value_of(const Node& map, std::string_view key) {
  for (std::size_t i = 0; i < map.keys.size(); ++i)
    if (map.keys[i].text == key) return &map.items[i];
  return nullptr;
}

Node* value_of(Node& map, std::string_view key) {
  return const_cast<Node*>(value_of(std::as_const(map), key));
}

Node& at(Node& root, const Path& path) {
  Node* node = &root;
  for (const std::size_t i : path)
    node = &node->items[i];
  return *node;
}

std::string words(const Node& root, const Path& path) {
  std::string text;
  const Node* node = &root;
  for (const std::size_t i : path) {
    text += (text.empty() ? "" : "/") + (node->is_map() ? node->keys[i].text : std::to_string(i));
    node = &node->items[i];
  }
  return text.empty() ? "the whole" : text;
}

namespace {

void walk_from(const Node& node, Path& path,
               const std::function<void(const Path&, const Node&)>& visit) {
  visit(path, node);
  for (std::size_t i = 0; i < node.items.size(); ++i) {
    path.push_back(i);
    walk_from(node.items[i], path, visit);
    path.pop_back();
  }
}

bool is_word_character(char c) {
  return std::isalnum(static_cast<unsigned char>(c)) != 0;
}

}  // namespace

void walk(const Node& root, const std::function<void(const Path&, const Node&)>& visit) {
  Path path;
  walk_from(root, path, visit);
}

Node word(std::string text) {
  return input::scalar(std::move(text), {});
}

Node map_of(const std::vector<std::pair<std::string, std::string>>& entries) {
  Node map = input::empty_map({});
  for (const auto& [key, value] : entries)
    input::put(map, word(key), word(value));
  return map;
}

void add_to_map(Node& root, std::string_view section, const std::string& key, Node value) {
  if (value_of(root, section) == nullptr)
    input::put(root, word(std::string(section)), input::empty_map({}));
  input::put(*value_of(root, section), word(key), std::move(value));
}

void add_to_list(Node& root, std::string_view section, Node value) {
  if (value_of(root, section) == nullptr)
    input::put(root, word(std::string(section)), input::empty_list({}));
  value_of(root, section)->items.push_back(std::move(value));
}

std::string replaced(const std::string& text, std::string_view word, std::string_view put) {
  std::string result;
  std::size_t done = 0;
  for (const std::size_t at : offsets(text, word)) {
    const std::size_t end = at + word.size();
    if ((at > 0 && is_word_character(text[at - 1])) ||
        (end < text.size() && is_word_character(text[end])) || at < done)
      continue;
    result += text.substr(done, at - done);
    result += put;
    done = end;
  }
  return result + text.substr(done);
}

std::vector<std::size_t> offsets(const std::string& text, std::string_view find) {
  std::vector<std::size_t> found;
  for (std::size_t at = text.find(find); at != std::string::npos; at = text.find(find, at + 1))
    found.push_back(at);
  return found;
}

std::string line_of(const std::string& text, std::size_t offset) {
  const auto end = text.begin() + static_cast<std::ptrdiff_t>(std::min(offset, text.size()));
  return "line " + std::to_string(1 + std::count(text.begin(), end, '\n'));
}

}  // namespace linewright::tests

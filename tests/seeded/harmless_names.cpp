// Other designations and other names, consistently.
#include <array>
#include <set>
#include <string>
#include <utility>

#include "input/emit.hpp"
#include "input/read.hpp"
#include "seeded/harmless_kinds.hpp"
#include "seeded/yaml_tree.hpp"

namespace linewright::tests {
namespace {

using input::Node;

/// "+A1" to "+A901", "-F51" to "-F9051"; the letters stay, since they say what a thing is.
std::string other(const std::string& designation) {
  const std::size_t digit = designation.find_first_of("0123456789");
  return designation.substr(0, digit) + "90" + designation.substr(digit);
}

/// Whether it begins like a designation: "-Q1 switch …", "+A4", "-T1".
std::string designation_in(const std::string& text) {
  if (text.size() < 3 || (text[0] != '-' && text[0] != '+') || text[1] < 'A' || text[1] > 'Z')
    return {};
  const std::size_t end = text.find_first_of(" :");
  const std::string first = text.substr(0, end);
  const bool numbered = first.find_first_of("0123456789") != std::string::npos;
  return numbered ? first : std::string{};
}

std::set<std::string> designations(const std::string& yaml) {
  std::set<std::string> all;
  walk(tree_of(yaml), [&](const Path&, const Node& node) {
    for (const Node& key : node.keys)
      all.insert(designation_in(key.text));
    if (node.is_scalar()) all.insert(designation_in(node.text));
  });
  all.erase("");
  return all;
}

template <class Which>
void rename_each(const std::string& yaml, const PutText& put, Which which) {
  const std::string all = *input::show_expanded(yaml);
  for (const std::string& old : designations(all)) {
    if (!which(old)) continue;
    const std::string fresh = other(old);
    put(old, replaced(all, old.substr(1), fresh.substr(1)), {{fresh, old}});
  }
}

void devices(const std::string& yaml, const PutText& put) {
  rename_each(yaml, put, [](const std::string& name) {
    return name.starts_with("-F") || name.starts_with("-Q") || name.starts_with("-P") ||
           (name.starts_with("-X") && !name.starts_with("-XE"));
  });
}

void cables(const std::string& yaml, const PutText& put) {
  rename_each(yaml, put, [](const std::string& name) {
    return name.starts_with("-W") && !name.starts_with("-WB");
  });
}

void bars(const std::string& yaml, const PutText& put) {
  rename_each(yaml, put, [](const std::string& name) { return name.starts_with("-WB"); });
}

void enclosures(const std::string& yaml, const PutText& put) {
  rename_each(yaml, put, [](const std::string& name) { return name.starts_with("+"); });
}

void sources_and_electrodes(const std::string& yaml, const PutText& put) {
  rename_each(yaml, put, [](const std::string& name) {
    return name.starts_with("-T") || name.starts_with("-G") || name.starts_with("-XE");
  });
}

// Names of circuits, boards, sources and of the site in another tongue.
void user_names(const std::string& yaml, const PutText& put) {
  const Node root = tree_of(*input::show_expanded(yaml));
  std::size_t number = 0;
  walk(root, [&](const Path& path, const Node& node) {
    if (!node.is_map() || value_of(node, "name") == nullptr) return;
    Node edited = root;
    Node& name = *value_of(at(edited, path), "name");
    const Renamed back{{"'Щит № " + std::to_string(++number) + "'", "'" + name.text + "'"}};
    name.text = "Щит № " + std::to_string(number);
    put(words(root, path), input::emit(edited), back);
  });
}

// The name of a state in the links that are closed in it.
void rename_in_links(Node& node, const std::string& from, const std::string& to, bool closed_in) {
  if (node.is_scalar() && closed_in && node.text == from) node.text = to;
  for (std::size_t i = 0; i < node.items.size(); ++i) {
    const bool here = closed_in || (node.is_map() && node.keys[i].text == "closed in");
    rename_in_links(node.items[i], from, to, here);
  }
}

// A state whose kind is written out may be called anything.
void state_names(const std::string& yaml, const PutText& put) {
  const Node root = tree_of(*input::show_expanded(yaml));
  const Node* states = value_of(root, "states");
  for (std::size_t i = 0; i < states->keys.size(); ++i) {
    if (value_of(states->items[i], "kind") == nullptr) continue;
    Node edited = root;
    value_of(edited, "states")->keys[i].text = "as it was agreed";
    rename_in_links(edited, states->keys[i].text, "as it was agreed", false);
    put(states->keys[i].text, input::emit(edited), {{"as it was agreed", states->keys[i].text}});
  }
}

constexpr std::array kinds{
    HarmlessKind{"a device renamed", Adds::nothing, devices},
    HarmlessKind{"a cable renamed", Adds::nothing, cables},
    HarmlessKind{"a busbar renamed", Adds::nothing, bars},
    HarmlessKind{"a board or panel renamed", Adds::nothing, enclosures},
    HarmlessKind{"a source or electrode renamed", Adds::nothing, sources_and_electrodes},
    HarmlessKind{"names in another tongue", Adds::nothing, user_names},
    HarmlessKind{"a state renamed", Adds::nothing, state_names},
};

}  // namespace

std::span<const HarmlessKind> other_names() {
  return kinds;
}

}  // namespace linewright::tests

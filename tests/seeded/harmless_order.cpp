// The same entries in another order, or in their long form.
#include <algorithm>
#include <array>
#include <string>
#include <utility>

#include "input/emit.hpp"
#include "input/read.hpp"
#include "seeded/harmless_kinds.hpp"
#include "seeded/yaml_tree.hpp"

namespace linewright::tests {
namespace {

using input::Node;

/// Everything named and written out, so that order gives no name.
Node expanded(const std::string& yaml) {
  return tree_of(*input::show_expanded(yaml));
}

void turn_round(Node& node) {
  std::ranges::reverse(node.keys);
  std::ranges::reverse(node.items);
}

/// Turns round every map or list of which `which` is true, one at a time.
template <class Which>
void turn_each(const std::string& yaml, const PutText& put, Which which) {
  const Node root = expanded(yaml);
  walk(root, [&](const Path& path, const Node& node) {
    if (node.items.size() < 2 || !which(words(root, path), node)) return;
    Node edited = root;
    turn_round(at(edited, path));
    put(words(root, path), input::emit(edited), {});
  });
}

bool ends_with(const std::string& text, std::string_view end) {
  return text == end || text.ends_with("/" + std::string(end));
}

void sections(const std::string& yaml, const PutText& put) {
  turn_each(yaml, put, [](const std::string& where, const Node&) { return where == "the whole"; });
}

void keys_of_sources(const std::string& yaml, const PutText& put) {
  turn_each(yaml, put, [](const std::string& where, const Node& node) {
    return node.is_map() && (where.starts_with("inverters") || where.starts_with("generators") ||
                             where.starts_with("supply") || where.starts_with("earthing"));
  });
}

void keys_of_boards(const std::string& yaml, const PutText& put) {
  turn_each(yaml, put, [](const std::string& where, const Node& node) {
    return node.is_map() && where.starts_with("boards") &&
           where.find("circuits") == std::string::npos;
  });
}

void keys_of_circuits(const std::string& yaml, const PutText& put) {
  turn_each(yaml, put, [](const std::string& where, const Node& node) {
    return node.is_map() && where.find("circuits/") != std::string::npos;
  });
}

void circuits(const std::string& yaml, const PutText& put) {
  turn_each(yaml, put, [](const std::string& where, const Node& node) {
    return node.is_list() && ends_with(where, "circuits");
  });
}

void chains(const std::string& yaml, const PutText& put) {
  turn_each(yaml, put, [](const std::string& where, const Node& node) {
    return node.is_list() && ends_with(where, "chains");
  });
}

void panel_keys(const std::string& yaml, const PutText& put) {
  turn_each(yaml, put, [](const std::string& where, const Node& node) {
    return node.is_map() && (where.starts_with("assemblies") || where.starts_with("panel"));
  });
}

void states(const std::string& yaml, const PutText& put) {
  turn_each(yaml, put, [](const std::string& where, const Node&) { return where == "states"; });
}

void positions_of_a_state(const std::string& yaml, const PutText& put) {
  turn_each(yaml, put, [](const std::string& where, const Node& node) {
    return node.is_map() && where.starts_with("states/");
  });
}

void sources_of_a_state(const std::string& yaml, const PutText& put) {
  turn_each(yaml, put, [](const std::string& where, const Node& node) {
    return node.is_list() && where.starts_with("states/");
  });
}

void interlocks(const std::string& yaml, const PutText& put) {
  turn_each(yaml, put, [](const std::string& where, const Node& node) {
    return node.is_list() && where.starts_with("interlocks");
  });
}

void sets_in_step(const std::string& yaml, const PutText& put) {
  turn_each(yaml, put, [](const std::string& where, const Node&) {
    return where.starts_with("synchronised/");
  });
}

void signals(const std::string& yaml, const PutText& put) {
  turn_each(yaml, put, [](const std::string& where, const Node&) { return where == "signals"; });
}

// A device on one line becomes a map of its designation and its words.
void line_as_map(const std::string& yaml, const PutText& put) {
  const Node root = expanded(yaml);
  walk(root, [&](const Path& path, const Node& node) {
    const std::string where = words(root, path);
    const bool in_a_chain =
        where.find("chain") != std::string::npos || where.find("feed/") != std::string::npos;
    const std::size_t space = node.text.find(' ');
    if (!node.is_scalar() || !in_a_chain || space == std::string::npos ||
        !node.text.starts_with("-"))
      return;
    const bool cable = node.text.starts_with("-W") && node.text.find("×") != std::string::npos;
    Node edited = root;
    at(edited, path) = map_of({{"id", node.text.substr(0, space)},
                               {cable ? "cable" : "device", node.text.substr(space + 1)}});
    put(where, input::emit(edited), {});
  });
}

// What a circuit says becomes a type of its own.
void type_taken_out(const std::string& yaml, const PutText& put) {
  const Node root = expanded(yaml);
  walk(root, [&](const Path& path, const Node& node) {
    if (!node.is_map() || value_of(node, "use") == nullptr || value_of(node, "device") == nullptr)
      return;
    Node edited = root;
    Node type = input::empty_map({});
    Node rest = input::empty_map({});
    for (std::size_t i = 0; i < node.keys.size(); ++i) {
      const std::string& key = node.keys[i].text;
      const bool own = key == "id" || key == "name" || key == "phase";
      input::put(own ? rest : type, node.keys[i], node.items[i]);
    }
    input::put(rest, word("type"), word("as it was"));
    at(edited, path) = rest;
    add_to_map(edited, "types", "as it was", type);
    put(words(root, path), input::emit(edited), {});
  });
}

constexpr std::array kinds{
    HarmlessKind{"sections in another order", Adds::nothing, sections},
    HarmlessKind{"keys of a source in another order", Adds::nothing, keys_of_sources},
    HarmlessKind{"keys of a board in another order", Adds::nothing, keys_of_boards},
    HarmlessKind{"keys of a circuit in another order", Adds::nothing, keys_of_circuits},
    HarmlessKind{"circuits in another order", Adds::nothing, circuits},
    HarmlessKind{"chains in another order", Adds::nothing, chains},
    HarmlessKind{"parts of a panel in another order", Adds::nothing, panel_keys},
    HarmlessKind{"states in another order", Adds::nothing, states},
    HarmlessKind{"positions of a state in another order", Adds::nothing, positions_of_a_state},
    HarmlessKind{"sources of a state in another order", Adds::nothing, sources_of_a_state},
    HarmlessKind{"interlocks in another order", Adds::nothing, interlocks},
    HarmlessKind{"sources in step in another order", Adds::nothing, sets_in_step},
    HarmlessKind{"signals in another order", Adds::nothing, signals},
    HarmlessKind{"a line as a map", Adds::nothing, line_as_map},
    HarmlessKind{"a circuit by a type of its own", Adds::nothing, type_taken_out},
};

}  // namespace

std::span<const HarmlessKind> other_order() {
  return kinds;
}

}  // namespace linewright::tests

// Short forms to explicit ones: types, quantities, ready-made interiors, states, designations.
#pragma once

#include "input/mistakes.hpp"
#include "input/names.hpp"
#include "input/node.hpp"

namespace linewright::input {

/// Rewrites the tree of a file into its explicit form; all that is left is read as it stands.
void expand(Node& root, Names& names, Mistakes& mistakes);

/// Replaces `use` and `type` by the keys of the type, and `quantity` by so many circuits.
void expand_types(Node& root, Mistakes& mistakes);

/// Replaces `panel` by an assembly, and gives the states that its interior brings.
void expand_panel(Node& root, Names& names, Mistakes& mistakes);

/// Gives a designation to every device, cable, battery and PV array of the tree that has none.
void expand_names(Node& root, Names& names);

/// Takes an entry out of a map; nothing if there is none of that key.
Node take_out(Node& map, std::string_view key);

/// The value of a key, added as an empty map at the end where there is none.
Node& map_under(Node& map, std::string_view key);

}  // namespace linewright::input

// YAML text to a tree of nodes. What YAML allows and a site file does not need is refused here.
#pragma once

#include <optional>
#include <string_view>

#include "input/mistakes.hpp"
#include "input/node.hpp"

namespace linewright::input {

/// The one document of the text; none if it cannot be parsed. Anchors, aliases, tags, a second
/// document, duplicate keys, and more depth or nodes than any site has are mistakes.
std::optional<Node> parse_tree(std::string_view text, Mistakes& mistakes);

}  // namespace linewright::input

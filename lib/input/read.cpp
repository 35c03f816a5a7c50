#include "input/read.hpp"

#include <utility>

#include <fmt/core.h>

#include "input/chains.hpp"
#include "input/conductors.hpp"
#include "input/draft.hpp"
#include "input/embedded.hpp"
#include "input/emit.hpp"
#include "input/expand.hpp"
#include "input/loops.hpp"
#include "input/read_parts.hpp"
#include "input/sections.hpp"
#include "input/source_text.hpp"
#include "input/tree.hpp"
#include "units/ensure.hpp"

namespace linewright::input {
namespace {

// Text to explicit tree; none where nothing can be made of it.
std::optional<Node> explicit_tree(std::string_view yaml, Names& names, Mistakes& mistakes) {
  if (!is_readable(yaml, mistakes)) return std::nullopt;
  std::optional<Node> root = parse_tree(without_mark(yaml), mistakes);
  if (!root) return std::nullopt;
  if (!root->is_map()) {
    mistakes.add({1, 1, 1}, root->is_nothing() ? "the file is empty" : "the file is no site",
                 "begin with 'site:' and 'supply:'");
    return std::nullopt;
  }
  expand(*root, names, mistakes);
  return root;
}

void join_all(Draft& draft) {
  for (const ChainPlan& chain : draft.chains)
    join_chain(draft, chain);
  check_ratings(draft);
  if (draft.mistakes.empty()) check_ends(draft);
  if (draft.split_at)
    draft.mistakes.add(
        draft.split_at->where,
        fmt::format("no chain from the supply reaches {}", quote(draft.split_at->text)),
        "name the board whose feed brings the PEN");
}

void read_tree(Draft& draft, const Node& tree) {
  const Fields root(tree, root_section, draft.mistakes);
  read_title(draft, root);
  read_supply(draft, root);
  read_sources(draft, root);
  read_assemblies(draft, root);
  read_boards(draft, root);
  join_all(draft);
  read_earthing(draft, root);
  read_source_references(draft, root);
  read_states(draft, root);
  read_interlocks(draft, root);
  read_synchronised(draft, root);
  read_signals(draft, root);
  read_permit(draft, root);
  check_loops(draft);
  settle_conductors(draft);
  // Conductors missing because of another mistake would only repeat it in other words.
  if (draft.mistakes.empty()) check_conductors(draft);
}

}  // namespace

Reading read_site(std::string_view yaml) {
  Mistakes mistakes;
  Names names;
  const std::optional<Node> tree = explicit_tree(yaml, names, mistakes);
  if (!tree) return {std::nullopt, mistakes.sorted()};
  Draft draft(mistakes, names);
  read_tree(draft, *tree);
  if (!mistakes.empty()) return {std::nullopt, mistakes.sorted()};
  return {std::move(draft.site), {}};
}

Result<std::string> show_expanded(std::string_view yaml) {
  const Reading reading = read_site(yaml);
  if (!reading.site) {
    const Mistake& first = reading.mistakes.front();
    return fail(fmt::format("line {}: {}", first.where.line, first.message));
  }
  Mistakes mistakes;
  Names names;
  const std::optional<Node> tree = explicit_tree(yaml, names, mistakes);
  ENSURE(tree.has_value());  // the same text has just been read
  return emit(*tree);
}

std::string_view schema() {
  return embedded_file("input/site-file.schema.json");
}

}  // namespace linewright::input

#include "input/loops.hpp"

#include <fmt/core.h>

namespace linewright::input {
namespace {

using site::none;

// For each board, those that it feeds: a run's ends, followed through the devices between boards.
std::vector<std::vector<std::size_t>> feeds(const Draft& draft) {
  const site::Site& site = draft.site;
  std::vector<std::vector<std::size_t>> result(site.assemblies.size());
  for (const ChainPlan& chain : draft.chains) {
    if (chain.items.size() < 2) continue;
    const auto* first = std::get_if<PlaceName>(&chain.items.front());
    const auto* last = std::get_if<PlaceName>(&chain.items.back());
    if (first == nullptr || last == nullptr) continue;
    const std::size_t from = find_assembly(draft, first->text);
    const std::size_t to = find_assembly(draft, last->text);
    if (from != none && to != none) result[from].push_back(to);
  }
  return result;
}

}  // namespace

void check_loops(Draft& draft) {
  const std::vector<std::vector<std::size_t>> below = feeds(draft);
  enum class Seen { no, open, done };
  std::vector<Seen> seen(below.size(), Seen::no);
  struct Step {
    std::size_t assembly;
    std::size_t next = 0;
  };
  for (std::size_t start = 0; start < below.size(); ++start) {
    std::vector<Step> path;
    if (seen[start] == Seen::no) path.push_back({start});
    while (!path.empty()) {
      Step& step = path.back();
      seen[step.assembly] = Seen::open;
      if (step.next == below[step.assembly].size()) {
        seen[step.assembly] = Seen::done;
        path.pop_back();
        continue;
      }
      const std::size_t next = below[step.assembly][step.next++];
      if (seen[next] == Seen::no) path.push_back({next});
      if (seen[next] != Seen::open) continue;
      const site::Assembly& from = draft.site.assemblies[step.assembly];
      const site::Assembly& to = draft.site.assemblies[next];
      draft.mistakes.add(to.where,
                         fmt::format("{} feeds {}, and is fed by it", quote(to.designation),
                                     quote(from.designation)),
                         "take one of the feeds away", {{from.where, "the other board"}});
    }
  }
}

}  // namespace linewright::input

#include <optional>
#include <utility>
#include <vector>

#include <fmt/core.h>

#include "input/conductors.hpp"

namespace linewright::input {
namespace {

using site::Conductor;
using site::Conductors;
using site::none;

struct Ends {
  Conductors above;
  Conductors below;
  bool has_below = false;
  bool only_cables_below = true;
};

std::vector<Ends> ends_of(const Draft& draft) {
  std::vector<Ends> ends(draft.site.elements.size());
  for (std::size_t i = 0; i < draft.site.runs.size(); ++i) {
    const site::Run& run = draft.site.runs[i];
    if (draft.run_plans[i].only) continue;  // links, earths, borrowed neutrals
    ends[run.to.element].above = ends[run.to.element].above | run.conductors;
    Ends& from = ends[run.from.element];
    from.below = from.below | run.conductors;
    from.has_below = true;
    from.only_cables_below = from.only_cables_below && run.cable.has_value();
  }
  return ends;
}

using Found = std::optional<Mistake>;

Found check_device(const site::Element& element, const Ends& ends) {
  const auto* device = site::facts<site::Device>(element);
  if (device == nullptr || !device->poles || element.conductors.empty()) return {};
  const site::Poles& poles = *device->poles;
  if (element.conductors.has(Conductor::dc_plus)) return {};
  const int lines = (element.conductors & site::lines).count();
  const int led_on = (ends.below & site::lines).count();
  const bool starved = ends.has_below && ends.only_cables_below && led_on < poles.line_poles;
  if (lines < poles.line_poles || starved)
    return Mistake{
        element.where,
        fmt::format("line poles of {}: {}, lines in its wires: {}", quote(element.designation),
                    poles.line_poles, starved ? led_on : lines),
        "match its poles and the cores of its cable",
        {}};
  const bool has_neutral =
      element.conductors.has(Conductor::n) || element.conductors.has(Conductor::pen);
  if (poles.neutral && !has_neutral)
    return Mistake{element.where,
                   fmt::format("{} opens N, but no N reaches it", quote(element.designation)),
                   "bring N with its cable or take a device without N pole",
                   {}};
  return {};
}

Found check_load(const site::Element& element) {
  if (site::facts<site::LoadGroup>(element) == nullptr) return {};
  const Conductors at = element.conductors;
  const std::string name = element.name.empty() ? element.designation : element.name;
  if ((at & site::lines).empty())
    return Mistake{element.where,
                   fmt::format("no line reaches the load {}", quote(name)),
                   "feed its board, or mend its phase or cable",
                   {}};
  if ((at & site::lines).count() == 1 && !at.has(Conductor::n) && !at.has(Conductor::pen))
    return Mistake{element.where,
                   fmt::format("no N reaches the load {}", quote(name)),
                   "give it a cable with N, such as '3×2.5 mm²'",
                   {}};
  return {};
}

// A phase that does not arrive, told at the element where its chain begins.
Found check_phase(const Draft& draft, std::size_t index) {
  const RunPlan& plan = draft.run_plans[index];
  const site::Run& run = draft.site.runs[index];
  if (plan.chain == none || !plan.single_phase || run.conductors.has(Conductor::dc_plus)) return {};
  const ChainPhase& chain = draft.chain_phases[plan.chain];
  if (!chain.phase || !(run.conductors & site::lines).empty()) return {};
  const site::Element& upper = draft.site.elements[run.from.element];
  const Conductors offered = upper.conductors & site::lines;
  if (offered.empty()) return {};
  return Mistake{
      chain.where,
      fmt::format("phase {} does not reach {}", site::mark(*chain.phase), quote(upper.designation)),
      fmt::format("it has {}", site::words(offered)),
      {}};
}

Found check_bond(const Draft& draft, const site::Run& run, const Ends& ends) {
  const site::Element& bond = draft.site.elements[run.to.element];
  if (site::facts<site::Bond>(bond) == nullptr) return {};
  const site::Element& place = draft.site.elements[run.from.element];
  const bool has_neutral = (ends.above | ends.below).has(Conductor::n) ||
                           site::facts<site::Generator>(place) != nullptr ||
                           site::facts<site::Inverter>(place) != nullptr;
  if (has_neutral) return {};
  return Mistake{bond.where,
                 fmt::format("no N reaches {}, where {} stands", quote(place.designation),
                             quote(bond.designation)),
                 "put the link where there is a neutral",
                 {}};
}

// A board's busbar that nothing feeds.
std::vector<Found> check_bars(const Draft& draft, const std::vector<Ends>& ends) {
  std::vector<Found> found(draft.site.elements.size());
  for (std::size_t i = 0; i < draft.bars.size(); ++i) {
    const std::size_t bar = draft.bars[i];
    if (bar == none || !(ends[bar].above & site::lines).empty()) continue;
    const site::Assembly& assembly = draft.site.assemblies[i];
    found[bar] = Mistake{assembly.where,
                         fmt::format("nothing feeds {}", quote(assembly.designation)),
                         "add 'feed: [place, cable]' to it",
                         {}};
  }
  return found;
}

// What is found is kept by element. What stands below an element with a mistake only repeats it.
void report(Draft& draft, const std::vector<Found>& found) {
  std::vector<std::vector<std::size_t>> below(found.size());
  for (const site::Run& run : draft.site.runs)
    below[run.from.element].push_back(run.to.element);
  std::vector<bool> repeats(found.size(), false);
  std::vector<std::size_t> waiting;
  for (std::size_t i = 0; i < found.size(); ++i)
    if (found[i]) waiting.push_back(i);
  while (!waiting.empty()) {
    const std::size_t element = waiting.back();
    waiting.pop_back();
    for (const std::size_t next : below[element]) {
      if (repeats[next]) continue;
      repeats[next] = true;
      waiting.push_back(next);
    }
  }
  const auto add = [&](const Found& each) {
    draft.mistakes.add(each->where, each->message, each->mend);
  };
  for (std::size_t i = 0; i < found.size(); ++i)
    if (found[i] && !repeats[i]) add(found[i]);
  if (!draft.mistakes.empty()) return;
  for (const Found& each : found)  // in a ring everything is below everything
    if (each) add(each);
}

}  // namespace

void check_conductors(Draft& draft) {
  const std::vector<Ends> ends = ends_of(draft);
  std::vector<Found> found = check_bars(draft, ends);
  const auto keep = [&](std::size_t element, Found one) {
    if (one && !found[element]) found[element] = std::move(one);
  };
  for (std::size_t i = 0; i < draft.site.runs.size(); ++i) {
    const site::Run& run = draft.site.runs[i];
    // At the lower end, so that what is missing there is not told a second time.
    keep(run.to.element, check_phase(draft, i));
    keep(run.to.element, check_bond(draft, run, ends[run.from.element]));
  }
  for (std::size_t i = 0; i < draft.site.elements.size(); ++i) {
    keep(i, check_device(draft.site.elements[i], ends[i]));
    keep(i, check_load(draft.site.elements[i]));
  }
  report(draft, found);
}

}  // namespace linewright::input

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

void check_device(Draft& draft, const site::Element& element, const Ends& ends) {
  const auto* device = site::facts<site::Device>(element);
  if (device == nullptr || !device->poles || element.conductors.empty()) return;
  const site::Poles& poles = *device->poles;
  if (element.conductors.has(Conductor::dc_plus)) return;
  const int lines = (element.conductors & site::lines).count();
  const int led_on = (ends.below & site::lines).count();
  const bool starved = ends.has_below && ends.only_cables_below && led_on < poles.line_poles;
  if (lines < poles.line_poles || starved)
    draft.mistakes.add(
        element.where,
        fmt::format("line poles of {}: {}, lines in its wires: {}", quote(element.designation),
                    poles.line_poles, starved ? led_on : lines),
        "match its poles and the cores of its cable");
  const bool has_neutral =
      element.conductors.has(Conductor::n) || element.conductors.has(Conductor::pen);
  if (poles.neutral && !has_neutral)
    draft.mistakes.add(element.where,
                       fmt::format("{} opens N, but no N reaches it", quote(element.designation)),
                       "bring N with its cable or take a device without N pole");
}

void check_load(Draft& draft, const site::Element& element) {
  if (site::facts<site::LoadGroup>(element) == nullptr) return;
  const Conductors at = element.conductors;
  const std::string name = element.name.empty() ? element.designation : element.name;
  if ((at & site::lines).empty())
    draft.mistakes.add(element.where, fmt::format("no line reaches the load {}", quote(name)),
                       "feed its board, or mend its phase or cable");
  else if ((at & site::lines).count() == 1 && !at.has(Conductor::n) && !at.has(Conductor::pen))
    draft.mistakes.add(element.where, fmt::format("no N reaches the load {}", quote(name)),
                       "give it a cable with N, such as '3×2.5 mm²'");
}

void check_phase(Draft& draft, std::size_t index) {
  const RunPlan& plan = draft.run_plans[index];
  const site::Run& run = draft.site.runs[index];
  if (plan.chain == none || !plan.single_phase || run.conductors.has(Conductor::dc_plus)) return;
  const ChainPhase& chain = draft.chain_phases[plan.chain];
  if (!chain.phase || !(run.conductors & site::lines).empty()) return;
  const Conductors upper = draft.site.elements[run.from.element].conductors & site::lines;
  if (upper.empty()) return;
  draft.mistakes.add(chain.where,
                     fmt::format("phase {} does not reach {}", site::mark(*chain.phase),
                                 quote(draft.site.elements[run.from.element].designation)),
                     fmt::format("it has {}", site::words(upper)));
}

void check_bond(Draft& draft, const site::Run& run, const Ends& ends) {
  const site::Element& bond = draft.site.elements[run.to.element];
  if (site::facts<site::Bond>(bond) == nullptr) return;
  const site::Element& place = draft.site.elements[run.from.element];
  const bool has_neutral = (ends.above | ends.below).has(Conductor::n) ||
                           site::facts<site::Generator>(place) != nullptr ||
                           site::facts<site::Inverter>(place) != nullptr;
  if (!has_neutral)
    draft.mistakes.add(bond.where,
                       fmt::format("no N reaches {}, where {} stands", quote(place.designation),
                                   quote(bond.designation)),
                       "put the link where there is a neutral");
}

void check_bar(Draft& draft, std::size_t index, const std::vector<Ends>& ends) {
  const std::size_t bar = draft.bars[index];
  if (bar == none || !(ends[bar].above & site::lines).empty()) return;
  const site::Assembly& assembly = draft.site.assemblies[index];
  draft.mistakes.add(assembly.where, fmt::format("nothing feeds {}", quote(assembly.designation)),
                     "add 'feed: [place, cable]' to it");
}

}  // namespace

void check_conductors(Draft& draft) {
  const std::vector<Ends> ends = ends_of(draft);
  for (std::size_t i = 0; i < draft.bars.size(); ++i)
    check_bar(draft, i, ends);
  if (!draft.mistakes.empty()) return;  // what is below such a board would only repeat it
  for (std::size_t i = 0; i < draft.site.elements.size(); ++i) {
    check_device(draft, draft.site.elements[i], ends[i]);
    check_load(draft, draft.site.elements[i]);
  }
  for (std::size_t i = 0; i < draft.site.runs.size(); ++i) {
    check_phase(draft, i);
    check_bond(draft, draft.site.runs[i], ends[draft.site.runs[i].from.element]);
  }
}

}  // namespace linewright::input

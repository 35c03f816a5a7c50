#include "diagram/references.hpp"

#include <algorithm>
#include <array>

#include <fmt/core.h>

#include "diagram/draw.hpp"
#include "diagram/paper.hpp"

namespace linewright::diagram {
namespace {

using site::none;

/// Where one end of a reference stands.
struct EndAt {
  std::size_t sheet = none;
  Point at;
};

/// The two ends of one link: 0 where it goes out, 1 where it comes in.
using Ends = std::array<EndAt, 2>;

std::size_t side_of(const Hub& hub) {
  return hub.kind == HubKind::reference_in ? 1 : 0;
}

void note_ends(const Job& job, const Part& part, std::size_t sheet, std::vector<Ends>& links) {
  const Drawing drawing{job.site, part.plan, part.measures, part.placed};
  const auto note = [&](std::size_t hub, Point at) {
    const std::size_t link = part.plan.hubs[hub].link;
    if (link >= links.size()) links.resize(link + 1);
    EndAt& end = links[link][side_of(part.plan.hubs[hub])];
    if (end.sheet == none) end = {sheet, at};
  };
  for (std::size_t h = 0; h < part.plan.hubs.size(); ++h)
    if (part.plan.hubs[h].link != none && part.plan.hubs[h].kind == HubKind::reference_in)
      note(h, source_origin(drawing, h));
  for (std::size_t c = 0; c < part.plan.chains.size(); ++c) {
    const std::size_t lower = part.plan.chains[c].lower;
    if (part.plan.hubs[lower].link != none)
      note(lower, {part.placed.chain_x[c], chain_bottom(drawing, c)});
  }
}

}  // namespace

void set_references(const Job& job, std::vector<SheetPlan>& sheets) {
  std::vector<Ends> links;
  for (std::size_t s = 0; s < sheets.size(); ++s)
    for (const Part& part : sheets[s].parts)
      note_ends(job, part, s, links);
  for (std::size_t s = 0; s < sheets.size(); ++s) {
    for (Part& part : sheets[s].parts) {
      for (Hub& hub : part.plan.hubs) {
        if (hub.link == none || hub.link >= links.size()) continue;
        const EndAt& other = links[hub.link][1 - side_of(hub)];
        if (other.sheet == none) continue;
        hub.reference.resize(1);
        const std::string zone = zone_of(sheets[other.sheet].paper, other.at);
        hub.reference.push_back(
            other.sheet == s ? zone : fmt::format("sheet {}, {}", other.sheet + 1, zone));
      }
    }
  }
}

}  // namespace linewright::diagram

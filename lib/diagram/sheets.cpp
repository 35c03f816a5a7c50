#include "diagram/sheets.hpp"

#include <algorithm>
#include <deque>
#include <optional>

#include <fmt/core.h>

#include "diagram/divide.hpp"
#include "diagram/draw.hpp"
#include "diagram/paper.hpp"

namespace linewright::diagram {
namespace {

using site::none;
using site::Site;

constexpr double margin = 3.0;  ///< from the frame to the diagram

/// What is the same for every sheet of a site.
struct Job {
  const Site& site;
  const Metrics& metrics;
  const std::function<bool(const SheetPlan&)>& holds_notes;
  Paper paper;
};

bool has_supply(const Plan& plan) {
  return std::any_of(plan.hubs.begin(), plan.hubs.end(),
                     [](const Hub& hub) { return hub.kind == HubKind::supply; });
}

Area area_for(const Job& job, NotesAt notes, bool has_supply) {
  const Rect& frame = job.paper.frame;
  Area area{.left = frame.x + margin, .top = frame.y + margin};
  area.notch_top = title_top(job.site, job.paper) - margin;
  if (notes != NotesAt::below) {
    area.right = frame.x + frame.width - (notes == NotesAt::right ? 98.0 : margin);
    area.bottom = frame.y + frame.height - 2.0;
    area.notch_left = frame.x + frame.width - Paper::title_width - margin;
    if (area.notch_left <= area.left) area.bottom = area.notch_top;
  } else {
    area.right = frame.x + frame.width - margin;
    area.bottom = area.notch_top;
    area.notch_left = area.right;
    area.stretch = has_supply ? 1000.0 : 60.0;
  }
  return area;
}

tl::expected<SheetPlan, Misfit> fit(const Job& job, const Plan& plan, NotesAt notes) {
  Misfit misfit;
  for (const TableRoom room : {TableRoom::airy, TableRoom::tight}) {
    const Measures measures = measure(job.site, job.metrics, plan, room);
    auto placed =
        place(job.site, job.metrics, plan, measures, area_for(job, notes, has_supply(plan)));
    if (!placed) {
      misfit = placed.error();
      continue;
    }
    SheetPlan sheet{plan, measures, *placed, notes, job.paper};
    if (!has_supply(plan) || job.holds_notes(sheet)) return sheet;
    misfit = {.width = 50.0};
  }
  return tl::unexpected<Misfit>(misfit);
}

// The first arrangement of the paper that takes it; of the misfits the smallest one.
tl::expected<SheetPlan, Misfit> fit(const Job& job, const Plan& plan) {
  const std::vector<NotesAt> ways =
      has_supply(plan) ? std::vector<NotesAt>{NotesAt::right, NotesAt::below, NotesAt::anywhere}
                       : std::vector<NotesAt>{NotesAt::below, NotesAt::right, NotesAt::anywhere};
  const auto size = [](const Misfit& misfit) {
    return misfit.height + misfit.width + 100.0 * misfit.faults;
  };
  std::optional<Misfit> least;
  for (const NotesAt notes : ways) {
    auto sheet = fit(job, plan, notes);
    if (sheet) return sheet;
    if (!least || size(sheet.error()) < size(*least)) least = sheet.error();
  }
  return tl::unexpected<Misfit>(*least);
}

/// A board that can go on another sheet.
struct Candidate {
  std::size_t assembly = none;
  int tier = 0;
  std::size_t circuits = 0;
};

bool is_fed_by_frame(const Plan& plan, std::size_t frame) {
  return std::any_of(plan.chains.begin(), plan.chains.end(), [&](const Chain& chain) {
    const std::size_t above = plan.hubs[chain.upper].frame;
    return above != none && above != frame && plan.hubs[chain.lower].frame == frame &&
           plan.hubs[chain.lower].kind != HubKind::reference_out;
  });
}

std::vector<Candidate> candidates(const Plan& plan) {
  std::vector<Candidate> result;
  for (std::size_t f = 0; f < plan.frames.size(); ++f) {
    if (plan.frames[f].assembly == none || !is_fed_by_frame(plan, f)) continue;
    const std::size_t circuits = circuits_in(plan, below_frame(plan, f));
    if (circuits > 0) result.push_back({plan.frames[f].assembly, plan.frames[f].tier, circuits});
  }
  return result;
}

// Too high: a board of the lowest tier must go; too wide: the one with the most circuits that is
// not all of it.
std::size_t next_to_go(const Plan& plan, const Misfit& misfit) {
  std::vector<Candidate> list = candidates(plan);
  if (list.empty()) return none;
  const bool too_high = misfit.height > 1e-6;
  std::stable_sort(list.begin(), list.end(), [&](const Candidate& a, const Candidate& b) {
    if (too_high && a.tier != b.tier) return a.tier > b.tier;
    return a.circuits > b.circuits;
  });
  return list.front().assembly;
}

std::size_t frame_of(const Plan& plan, std::size_t assembly) {
  for (std::size_t f = 0; f < plan.frames.size(); ++f)
    if (plan.frames[f].assembly == assembly) return f;
  return none;
}

// Takes the boards out, the outer ones first, so that an inner one stays with the board it hangs
// from.
Plan without_boards(const Site& site, Plan plan, const std::vector<std::size_t>& boards,
                    std::vector<Plan>& parts) {
  std::vector<std::size_t> order = boards;
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return plan.frames[frame_of(plan, a)].tier < plan.frames[frame_of(plan, b)].tier;
  });
  const auto in_parts = [&](std::size_t assembly) {
    return std::any_of(parts.begin(), parts.end(),
                       [&](const Plan& part) { return frame_of(part, assembly) != none; });
  };
  for (const std::size_t assembly : order) {
    if (in_parts(assembly)) continue;
    parts.push_back(take_board(site, plan, frame_of(plan, assembly)));
  }
  return plan;
}

// The bar with the most circuits, where one bar alone is too much for a sheet.
std::size_t fullest_bar(const Plan& plan, std::size_t& circuits) {
  std::size_t fullest = none;
  circuits = 0;
  for (std::size_t h = 0; h < plan.hubs.size(); ++h) {
    std::size_t count = 0;
    for (const Chain& chain : plan.chains)
      count += chain.upper == h && plan.hubs[chain.lower].kind == HubKind::load ? 1U : 0U;
    if (plan.hubs[h].frame == none || count <= circuits) continue;
    fullest = h;
    circuits = count;
  }
  return fullest;
}

/// A division under way: what stays on the sheet, and what has left it.
struct Parting {
  Plan whole;
  std::vector<std::size_t> gone;  ///< boards that left, by assembly
  Plan boards_left;               ///< the whole without them
  Plan plan;                      ///< and without circuits or sources that left as well
  std::vector<Plan> boards;
  std::vector<Plan> others;
  std::size_t fewer = 0;  ///< circuits that left the fullest bar
};

bool part_board(const Job& job, Parting& parting, std::size_t board) {
  if (board == none) return false;
  parting.gone.push_back(board);
  parting.fewer = 0;
  parting.boards.clear();
  parting.others.clear();
  parting.boards_left = without_boards(job.site, parting.whole, parting.gone, parting.boards);
  parting.plan = parting.boards_left;
  return true;
}

// As many circuits as the missing width asks for, but a few stay.
bool part_circuits(const Job& job, Parting& parting, const Misfit& misfit) {
  constexpr std::size_t least = 4;
  constexpr double column = 15.0;
  const std::size_t step = 2 + static_cast<std::size_t>(std::min(misfit.width, 900.0) / column);
  std::size_t circuits = 0;
  const std::size_t bar = fullest_bar(parting.boards_left, circuits);
  if (bar == none || circuits <= parting.fewer + least) return false;
  parting.fewer = std::min(parting.fewer + step, circuits - least);
  parting.plan = parting.boards_left;
  parting.others = {take_circuits(job.site, parting.plan, bar, circuits - parting.fewer)};
  return true;
}

bool part_source(const Job& job, Parting& parting) {
  constexpr std::size_t least = 2;
  std::size_t count = 0;
  std::size_t last = none;
  for (std::size_t h = 0; h < parting.plan.hubs.size(); ++h) {
    if (parting.plan.hubs[h].kind != HubKind::inverter) continue;
    ++count;
    last = h;
  }
  if (count <= least) return false;
  Plan part = take_source(job.site, parting.plan, last);
  parting.others.insert(parting.others.begin(), std::move(part));
  return true;
}

// A board without circuits of its own: a panel with all that hangs from it.
std::size_t panel_to_go(const Plan& plan) {
  std::size_t panel = none;
  for (std::size_t f = 0; f < plan.frames.size(); ++f)
    if (plan.frames[f].assembly != none && is_fed_by_frame(plan, f))
      panel = plan.frames[f].assembly;
  return panel;
}

// Boards with circuits leave the sheet first, then circuits of the fullest bar, then sources, at
// last whole panels.
std::optional<SheetPlan> fit_or_divide(const Job& job, const Plan& whole,
                                       std::deque<Plan>& further) {
  constexpr int tries = 40;
  Parting parting{.whole = whole, .boards_left = whole, .plan = whole};
  for (int attempt = 0; attempt < tries; ++attempt) {
    auto sheet = fit(job, parting.plan);
    if (sheet) {
      further.insert(further.begin(), parting.boards.begin(), parting.boards.end());
      further.insert(further.begin(), parting.others.begin(), parting.others.end());
      return *sheet;
    }
    const bool parted = part_board(job, parting, next_to_go(parting.boards_left, sheet.error())) ||
                        part_circuits(job, parting, sheet.error()) || part_source(job, parting) ||
                        part_board(job, parting, panel_to_go(parting.boards_left));
    if (!parted) return std::nullopt;
  }
  return std::nullopt;
}

// Small parts share a sheet, in their order.
void pack(const Job& job, std::vector<SheetPlan>& sheets) {
  for (std::size_t i = 1; i + 1 < sheets.size();) {
    if (sheets[i].paper.name != sheets[i + 1].paper.name) {
      ++i;
      continue;
    }
    const auto both = fit({job.site, job.metrics, job.holds_notes, sheets[i].paper},
                          joined(sheets[i].plan, sheets[i + 1].plan), NotesAt::below);
    if (!both) {
      ++i;
      continue;
    }
    sheets[i] = *both;
    sheets.erase(sheets.begin() + static_cast<std::ptrdiff_t>(i) + 1);
  }
}

/// Where one end of a reference stands.
struct End {
  std::size_t sheet = none;
  Point at;
};

Point place_of(const Job& job, const SheetPlan& sheet, std::size_t hub) {
  const Drawing drawing{job.site, sheet.plan, sheet.measures, sheet.placed};
  if (sheet.plan.hubs[hub].kind == HubKind::reference_in) return source_origin(drawing, hub);
  for (std::size_t c = 0; c < sheet.plan.chains.size(); ++c)
    if (sheet.plan.chains[c].lower == hub)
      return {sheet.placed.chain_x[c], chain_bottom(drawing, c)};
  return {};
}

void set_references(const Job& job, std::vector<SheetPlan>& sheets) {
  const auto find = [&](std::size_t link, HubKind kind) {
    for (std::size_t s = 0; s < sheets.size(); ++s)
      for (std::size_t h = 0; h < sheets[s].plan.hubs.size(); ++h)
        if (sheets[s].plan.hubs[h].link == link && sheets[s].plan.hubs[h].kind == kind)
          return End{s, place_of(job, sheets[s], h)};
    return End{};
  };
  for (std::size_t s = 0; s < sheets.size(); ++s) {
    for (Hub& hub : sheets[s].plan.hubs) {
      if (hub.link == none) continue;
      const End other = find(hub.link, hub.kind == HubKind::reference_in ? HubKind::reference_out
                                                                         : HubKind::reference_in);
      if (other.sheet == none) continue;
      const std::string zone = zone_of(sheets[other.sheet].paper, other.at);
      hub.reference.resize(1);
      if (other.sheet == s) {
        hub.reference.push_back(zone);
      } else if (hub.kind == HubKind::reference_in) {
        hub.reference.push_back(fmt::format("sheet {}, {}", other.sheet + 1, zone));
      } else {
        hub.reference.push_back(fmt::format("sheet {}", other.sheet + 1));
      }
    }
  }
}

// References number the links of one plan; parts divided from each other must not share numbers.
void number_links(std::deque<Plan>& further, std::size_t& links) {
  for (Plan& plan : further) {
    links = std::max(links, plan.links);
    plan.links = links;
  }
}

}  // namespace

Division divide(const Site& site, const Metrics& metrics,
                const std::function<bool(const SheetPlan&)>& holds_notes) {
  const Job job{site, metrics, holds_notes, paper_of(site)};
  Division division;
  Plan whole = contract(site);
  rank_plan(site, whole);
  std::deque<Plan> waiting{std::move(whole)};
  std::size_t links = 0;
  while (!waiting.empty()) {
    Plan plan = std::move(waiting.front());
    waiting.pop_front();
    plan.links = std::max(plan.links, links);
    links = plan.links;
    auto sheet = fit_or_divide(job, plan, waiting);
    if (const auto larger = larger_than(job.paper); !sheet && larger)
      sheet = fit_or_divide({site, metrics, holds_notes, *larger}, plan, waiting);
    number_links(waiting, links);
    if (sheet) {
      links = std::max(links, sheet->plan.links);
      division.sheets.push_back(std::move(*sheet));
    } else {
      division.misfits.push_back(std::move(plan));
    }
  }
  pack(job, division.sheets);
  set_references(job, division.sheets);
  return division;
}

}  // namespace linewright::diagram

#include "diagram/fit.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "diagram/divide.hpp"
#include "diagram/feeding.hpp"
#include "diagram/page.hpp"
#include "diagram/portions.hpp"

namespace linewright::diagram {
namespace {

using site::none;

constexpr double least_pitch = 10.0;  ///< of a table's columns
constexpr double tag_width = 25.0;    ///< of a board's tag with its feeder, about

bool has_supply(const Plan& plan) {
  return std::any_of(plan.hubs.begin(), plan.hubs.end(),
                     [](const Hub& hub) { return hub.kind == HubKind::supply; });
}

std::size_t circuits_of(const Plan& plan) {
  return static_cast<std::size_t>(
      std::count_if(plan.hubs.begin(), plan.hubs.end(),
                    [](const Hub& hub) { return hub.kind == HubKind::load; }));
}

Area area_for(const Page& page, NotesAt notes, bool has_supply) {
  Area area{.left = page.frame.x + page_margin, .top = page.frame.y + page_margin};
  area.notch_top = page.title_top - page_margin;
  if (notes != NotesAt::below) {
    constexpr double notes_width = 98.0;
    area.right = page.right() - (notes == NotesAt::right ? notes_width : page_margin);
    area.bottom = page.bottom() - 2.0;
    area.notch_left = page.title_left - page_margin;
    if (area.notch_left <= area.left) area.bottom = area.notch_top;
  } else {
    area.right = page.right() - page_margin;
    area.bottom = area.notch_top;
    area.notch_left = area.right;
    area.stretch = has_supply ? 1000.0 : 60.0;
  }
  return area;
}

// Where notes take what room is left, tags are narrow, so that it is in one piece.
std::vector<Roominess> rooms_for(NotesAt notes) {
  Roominess first = airy;
  if (notes == NotesAt::anywhere) first.to_tags = CableLines::narrow;
  return {first, tight};
}

tl::expected<SheetPlan, Misfit> fit_with(const Job& job, const Plan& plan, NotesAt notes) {
  const Area area = area_for(page_of(job.site, job.paper), notes, has_supply(plan));
  Misfit misfit;
  for (const Roominess& room : rooms_for(notes)) {
    const Measures measures = measure(job.site, job.metrics, plan, room);
    auto placed = place(job.site, job.metrics, plan, measures, area);
    if (!placed) {
      misfit = placed.error();
      continue;
    }
    SheetPlan sheet{.parts = {}, .notes = notes, .paper = job.paper};
    sheet.parts.push_back({plan, measures, std::move(*placed)});
    if (!has_supply(plan) || job.holds_notes(sheet)) return sheet;
    misfit = {.width = 50.0};
  }
  return tl::unexpected<Misfit>(misfit);
}

/// A plan on its way to a sheet: what was taken off so far.
struct Reduction {
  const Job& job;
  const Plan& whole;
  Feeding feeding;
  std::vector<bool> leaves;  ///< by frame of the whole, the uppermost ones of what leaves
  std::size_t portions = 1;
  std::size_t sources = 0;
  std::size_t source_portions = 1;  ///< all but the first leave with continuations of their bars
  Plan plan;                        ///< what is left
  std::vector<Plan> parts;
};

bool is_gone(const Reduction& reduction, std::size_t frame) {
  for (; frame != none; frame = reduction.feeding.above[frame])
    if (reduction.leaves[frame]) return true;
  return false;
}

void take_off(Reduction& reduction, std::size_t frame) {
  for (const std::size_t below : subtree(reduction.feeding, frame))
    reduction.leaves[below] = false;
  reduction.leaves[frame] = true;
}

// Boards that hang from others, with circuits and without sources: they leave first.
std::vector<std::size_t> radial_boards(const Reduction& reduction) {
  const Feeding& feeding = reduction.feeding;
  std::vector<std::size_t> boards;
  for (std::size_t f = 0; f < reduction.whole.frames.size(); ++f)
    if (feeding.above[f] != none && reduction.whole.frames[f].assembly != none &&
        feeding.circuits[f] > 0 && feeding.sources[f] == 0 && !is_gone(reduction, f))
      boards.push_back(f);
  return boards;
}

// Too high: the boards of the lowest tier leave. Too wide: those with the most circuits, until the
// tags that stay take less than what is missing.
bool take_boards(Reduction& reduction, const Misfit& misfit) {
  std::vector<std::size_t> boards = radial_boards(reduction);
  if (boards.empty()) return false;
  const auto& frames = reduction.whole.frames;
  if (misfit.height > 1e-6) {
    int lowest = 0;
    for (const std::size_t f : boards)
      lowest = std::max(lowest, frames[f].tier);
    for (const std::size_t f : boards)
      if (frames[f].tier == lowest) take_off(reduction, f);
    return true;
  }
  std::stable_sort(boards.begin(), boards.end(), [&](std::size_t a, std::size_t b) {
    return reduction.feeding.circuits[a] > reduction.feeding.circuits[b];
  });
  double relief = 0.0;
  for (const std::size_t f : boards) {
    if (is_gone(reduction, f)) continue;
    take_off(reduction, f);
    relief += static_cast<double>(reduction.feeding.circuits[f]) * least_pitch - tag_width;
    if (relief >= misfit.width) break;
  }
  return true;
}

// One portion more of the fullest bar, or as many as the missing width asks for.
bool take_circuits(Reduction& reduction, const Misfit& misfit) {
  const Plan left =
      without_boards(reduction.job.site, reduction.whole, reduction.feeding, reduction.leaves)
          .front();
  const Measures measures = measure(reduction.job.site, reduction.job.metrics, left, tight);
  const Page page = page_of(reduction.job.site, reduction.job.paper);
  const auto bar = widest_bar(left, measures, page.frame.width / 2.0);
  constexpr std::size_t least = 3;  // in each portion
  if (!bar) return false;
  const double stays = bar->width / static_cast<double>(reduction.portions) - misfit.width;
  const std::size_t most = bar->chains.size() / least;
  std::size_t wanted = reduction.portions + 1;
  if (misfit.width > 0.0)
    wanted = stays > 0.0 ? std::max(wanted, static_cast<std::size_t>(std::ceil(bar->width / stays)))
                         : most;
  if (reduction.portions >= most) return false;
  reduction.portions = std::min(wanted, most);
  return true;
}

std::vector<std::size_t> inverters_of(const Plan& plan) {
  std::vector<std::size_t> hubs;
  for (std::size_t h = 0; h < plan.hubs.size(); ++h)
    if (plan.hubs[h].kind == HubKind::inverter) hubs.push_back(h);
  return hubs;
}

bool take_one_source(Reduction& reduction) {
  constexpr std::size_t least = 2;
  if (inverters_of(reduction.plan).size() <= least) return false;
  ++reduction.sources;
  return true;
}

// A panel with all that hangs from it; those that hang from one side first.
bool take_panel(Reduction& reduction) {
  const Plan& whole = reduction.whole;
  std::vector<bool> fed(whole.frames.size(), false);
  for (const Chain& chain : whole.chains) {
    const std::size_t upper = whole.hubs[chain.upper].frame;
    const std::size_t lower = whole.hubs[chain.lower].frame;
    if (upper != none && lower != none && upper != lower) fed[lower] = true;
  }
  std::size_t panel = none;
  for (const bool hangs : {true, false}) {
    for (std::size_t f = 0; f < whole.frames.size() && panel == none; ++f)
      if (whole.frames[f].assembly != none && fed[f] && !is_gone(reduction, f) &&
          (reduction.feeding.above[f] != none) == hangs)
        panel = f;
  }
  if (panel == none) return false;
  take_off(reduction, panel);
  reduction.portions = 1;
  reduction.sources = 0;
  reduction.source_portions = 1;
  return true;
}

// Even the places where sources come down are too many for the bars of a panel: these bars go on
// on further sheets, with a portion of the sources each.
bool take_sources_with_bars(Reduction& reduction) {
  constexpr std::size_t least = 2;  // in each portion
  const std::size_t count = inverters_of(reduction.whole).size();
  if (reduction.source_portions >= count / least) return false;
  reduction.leaves.assign(reduction.leaves.size(), false);
  reduction.portions = 1;
  reduction.sources = 0;
  ++reduction.source_portions;
  return true;
}

// What stays and what leaves, by what was decided.
void carry_out(Reduction& reduction) {
  const Job& job = reduction.job;
  std::vector<Plan> boards =
      without_boards(job.site, reduction.whole, reduction.feeding, reduction.leaves);
  reduction.plan = std::move(boards.front());
  reduction.parts.clear();
  if (reduction.portions > 1) {
    const Measures measures = measure(job.site, job.metrics, reduction.plan, tight);
    const auto bar =
        widest_bar(reduction.plan, measures, page_of(job.site, job.paper).frame.width / 2.0);
    if (bar) {
      auto portions = even_portions(*bar, reduction.portions);
      portions.erase(portions.begin());
      reduction.parts = take_portions(job.site, reduction.plan, bar->hub, portions);
    }
  }
  for (std::size_t left = reduction.source_portions; left > 1; --left) {
    std::vector<std::size_t> hubs = inverters_of(reduction.plan);
    const std::size_t stay = hubs.size() - hubs.size() / left;
    if (stay == hubs.size()) break;
    hubs.erase(hubs.begin(), hubs.begin() + static_cast<std::ptrdiff_t>(stay));
    if (auto part = take_with_bars(job.site, reduction.plan, hubs))
      reduction.parts.insert(reduction.parts.begin(), std::move(*part));
  }
  for (std::size_t i = 0; i < reduction.sources; ++i)
    reduction.parts.insert(
        reduction.parts.begin(),
        take_source(job.site, reduction.plan, inverters_of(reduction.plan).back()));
  reduction.parts.insert(reduction.parts.end(), std::make_move_iterator(boards.begin() + 1),
                         std::make_move_iterator(boards.end()));
}

bool reduce(Reduction& reduction, const Misfit& misfit) {
  const bool reduced =
      (reduction.portions == 1 && reduction.sources == 0 && take_boards(reduction, misfit)) ||
      (reduction.sources == 0 && take_circuits(reduction, misfit)) || take_one_source(reduction) ||
      take_sources_with_bars(reduction) || take_panel(reduction);
  if (reduced) carry_out(reduction);
  return reduced;
}

}  // namespace

tl::expected<SheetPlan, Misfit> fit(const Job& job, const Plan& plan) {
  const double lack = static_cast<double>(circuits_of(plan)) * least_pitch -
                      page_of(job.site, job.paper).frame.width + 2.0 * page_margin + table_heads;
  if (lack > 0.0) return tl::unexpected<Misfit>({.width = lack});
  const std::vector<NotesAt> ways =
      has_supply(plan) ? std::vector<NotesAt>{NotesAt::right, NotesAt::below, NotesAt::anywhere}
                       : std::vector<NotesAt>{NotesAt::below, NotesAt::right, NotesAt::anywhere};
  const auto size = [](const Misfit& misfit) {
    return misfit.height + misfit.width + 100.0 * misfit.faults;
  };
  std::optional<Misfit> least;
  for (const NotesAt notes : ways) {
    auto sheet = fit_with(job, plan, notes);
    if (sheet) return sheet;
    if (!least || size(sheet.error()) < size(*least)) least = sheet.error();
  }
  return tl::unexpected<Misfit>(*least);
}

std::optional<SheetPlan> fit_above(const Job& job, const Plan& plan, double below) {
  constexpr double calm = 12.5;  // higher than it must be
  const Page page = page_of(job.site, job.paper);
  const double top = page.frame.y + page_margin;
  const double least = least_height(job.site, job.metrics, plan);
  const double room = page.bottom() - page_margin - below - top;
  if (least > room || top + least > page.title_top - page_margin) return std::nullopt;
  const Measures measures = measure(job.site, job.metrics, plan, tight);
  for (const NotesAt notes : {NotesAt::right, NotesAt::anywhere}) {
    Area area = area_for(page, notes, has_supply(plan));
    area.bottom = std::min({top + least + calm, top + room, page.title_top - page_margin});
    area.growth = Growth::limited;
    auto placed = place(job.site, job.metrics, plan, measures, area);
    if (!placed) continue;
    SheetPlan sheet{.parts = {}, .notes = notes, .notes_end = area.bottom, .paper = job.paper};
    sheet.parts.push_back({plan, measures, std::move(*placed)});
    if (job.holds_notes(sheet)) return sheet;
  }
  return std::nullopt;
}

Reduced fit_or_reduce(const Job& job, const Plan& whole) {
  constexpr int tries = 40;
  Reduction reduction{.job = job,
                      .whole = whole,
                      .feeding = feeding_of(whole),
                      .leaves = std::vector<bool>(whole.frames.size(), false),
                      .plan = whole,
                      .parts = {}};
  for (int attempt = 0; attempt < tries; ++attempt) {
    auto sheet = fit(job, reduction.plan);
    if (sheet) return {.sheet = {std::move(*sheet)}, .parts = std::move(reduction.parts)};
    if (!reduce(reduction, sheet.error())) break;
  }
  return {};
}

}  // namespace linewright::diagram

#include "diagram/sheets.hpp"

#include <algorithm>
#include <cmath>
#include <deque>
#include <optional>

#include "diagram/divide.hpp"
#include "diagram/feeding.hpp"
#include "diagram/fit.hpp"
#include "diagram/portions.hpp"
#include "diagram/references.hpp"
#include "diagram/shelves.hpp"

namespace linewright::diagram {
namespace {

using site::none;

/// A division under way.
struct Dividing {
  const Job& job;
  Page page;
  std::deque<Plan> waiting;          ///< what has no sheet yet
  std::vector<StandingPlan> blocks;  ///< what will stand on shelves
  std::size_t links = 0;             ///< numbers given to references so far
  Division division;

  // Parts that were divided from each other must not share the numbers of their references.
  void wait(std::vector<Plan> parts) {
    for (const Plan& part : parts)
      links = std::max(links, part.links);
    waiting.insert(waiting.begin(), std::make_move_iterator(parts.begin()),
                   std::make_move_iterator(parts.end()));
  }
};

double circuits_width(std::size_t circuits) {
  constexpr double least_pitch = 10.0;
  return static_cast<double>(circuits) * least_pitch;
}

// The boards that a board feeds leave it where it would be too wide with all of them: surely if its
// circuits alone are, else if it was found not to fit.
std::vector<bool> leaving(const Plan& plan, const Feeding& feeding, double width, bool any_root) {
  std::vector<bool> leaves(plan.frames.size(), false);
  for (std::size_t f = 0; f < plan.frames.size(); ++f) {
    const std::size_t above = feeding.above[f];
    if (above == none || plan.frames[f].assembly == none || feeding.circuits[f] == 0) continue;
    const bool root = any_root && feeding.above[above] == none;
    leaves[f] = root || circuits_width(feeding.circuits[above]) > width;
  }
  return leaves;
}

bool leave_parent(Dividing& dividing, const Plan& plan, bool any_root) {
  const Feeding feeding = feeding_of(plan);
  const std::vector<bool> leaves =
      leaving(plan, feeding, dividing.page.width() - table_heads, any_root);
  if (std::find(leaves.begin(), leaves.end(), true) == leaves.end()) return false;
  dividing.wait(without_boards(dividing.job.site, plan, feeding, leaves));
  return true;
}

// A bar with more than fits, in as few even portions as fit.
bool in_portions(Dividing& dividing, const Plan& plan, const Need& need) {
  const Job& job = dividing.job;
  const double room = dividing.page.width();
  const Measures measures = measure(job.site, job.metrics, plan, tight);
  const auto bar = widest_bar(plan, measures, room - table_heads);
  if (!bar || need.least.width <= room) return false;
  const auto fits = [&](const Plan& part) {
    return need_of(job.site, job.metrics, part).least.width <= room;
  };
  auto count = static_cast<std::size_t>(std::ceil(need.least.width / room));
  for (; count <= bar->chains.size(); ++count) {
    Plan left = plan;
    auto chains = even_portions(*bar, count);
    if (chains.size() < 2) return false;
    chains.erase(chains.begin());
    std::vector<Plan> parts = take_portions(job.site, left, bar->hub, chains);
    parts.insert(parts.begin(), std::move(left));
    if (!fits(parts[0]) || !fits(parts[1])) continue;
    dividing.wait(std::move(parts));
    return true;
  }
  return false;
}

// A sheet of its own, on larger paper where that of the site does not do.
void make_sheet(Dividing& dividing, Plan plan) {
  const Job& job = dividing.job;
  Reduced reduced = fit_or_reduce(job, plan);
  for (auto larger = larger_than(job.paper); reduced.sheet.empty() && larger;
       larger = larger_than(*larger))
    reduced = fit_or_reduce({job.site, job.metrics, job.holds_notes, *larger}, plan);
  if (reduced.sheet.empty()) {
    dividing.division.misfits.push_back(std::move(plan));
    return;
  }
  for (const Part& part : reduced.sheet.front().parts)
    dividing.links = std::max(dividing.links, part.plan.links);
  dividing.division.sheets.push_back(std::move(reduced.sheet.front()));
  dividing.wait(std::move(reduced.parts));
}

// A board with what hangs from it goes on a shelf if it fits there; else it is divided.
void make_block(Dividing& dividing, Plan plan) {
  if (leave_parent(dividing, plan, false)) return;
  const Need need = need_of(dividing.job.site, dividing.job.metrics, plan);
  if (fits_page(dividing.page, need.least)) {
    dividing.blocks.push_back({std::move(plan), need});
    return;
  }
  if (leave_parent(dividing, plan, true) || in_portions(dividing, plan, need)) return;
  make_sheet(dividing, std::move(plan));
}

// The order of the file: that of the first board that a block shows.
std::size_t place_in_file(const StandingPlan& block) {
  const std::vector<std::size_t> boards = boards_on(block.plan);
  return boards.empty() ? 0 : *std::min_element(boards.begin(), boards.end());
}

// The blocks on sheets of their own, or from below the overview on if it leaves room.
void shelve(Dividing& dividing) {
  std::vector<SheetPlan>& sheets = dividing.division.sheets;
  const Job& job = dividing.job;
  std::optional<SheetPlan> head;
  if (sheets.size() == 1 && !dividing.blocks.empty() && sheets.front().paper.name == job.paper.name)
    head = fit_above(job, sheets.front().parts.front().plan,
                     dividing.blocks.front().need.least.height + shelf_gap);
  std::vector<Plan> misfits;
  std::vector<SheetPlan> shelves = sheets_of(job, dividing.blocks, head, misfits);
  if (head && shelves.front().parts.size() == 1) {
    misfits.clear();
    shelves = sheets_of(job, dividing.blocks, std::nullopt, misfits);
  } else if (head) {
    sheets.clear();
  }
  sheets.insert(sheets.end(), std::make_move_iterator(shelves.begin()),
                std::make_move_iterator(shelves.end()));
  dividing.division.misfits.insert(dividing.division.misfits.end(), misfits.begin(), misfits.end());
}

}  // namespace

Division divide(const site::Site& site, const Metrics& metrics, const HoldsNotes& holds_notes) {
  const Job job{site, metrics, holds_notes, paper_of(site)};
  Dividing dividing{
      .job = job, .page = page_of(site, job.paper), .waiting = {}, .blocks = {}, .division = {}};
  Plan whole = contract(site);
  rank_plan(site, whole);
  constexpr std::size_t many = 90;  // boards; there are no more sheets than boards and a few
  if (whole.frames.size() > many) whole.sheet_digits = 3;
  dividing.links = whole.links;
  make_sheet(dividing, std::move(whole));
  while (!dividing.waiting.empty()) {
    Plan plan = std::move(dividing.waiting.front());
    dividing.waiting.pop_front();
    plan.links = dividing.links;
    if (is_tree(plan))
      make_block(dividing, std::move(plan));
    else
      make_sheet(dividing, std::move(plan));
  }
  std::stable_sort(dividing.blocks.begin(), dividing.blocks.end(),
                   [](const StandingPlan& a, const StandingPlan& b) {
                     return place_in_file(a) < place_in_file(b);
                   });
  shelve(dividing);
  if (std::vector<SheetPlan>& sheets = dividing.division.sheets; sheets.empty())
    if (auto blank = fit(job, Plan{})) sheets.push_back(std::move(*blank));
  set_references(job, dividing.division.sheets);
  return std::move(dividing.division);
}

}  // namespace linewright::diagram

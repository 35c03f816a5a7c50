#include "diagram/side_notes.hpp"

#include <utility>

#include "diagram/note_blocks.hpp"

namespace linewright::diagram {
namespace {

void put_list(Filling& filling, const Metrics& metrics, const NoteList& list,
              std::vector<std::string>& left) {
  if (list.lines.empty()) return;
  if (filling.put([&](double width) { return list_block(metrics, list, width); })) left.clear();
}

}  // namespace

NotesLeft draw_notes(const NotesLeft& what, const NotePlaces& places, Sketch& sketch) {
  const Metrics& metrics = sketch.metrics;
  NotesLeft left = what;
  Filling filling(places.columns);
  if (!left.states.states.empty() &&
      filling.put([&](double width) { return state_block(metrics, left.states, width); }))
    left.states.states.clear();
  put_list(filling, metrics, {"Open dangers", left.dangers, Weight::bold}, left.dangers);
  put_list(filling, metrics, {"Notes", left.notes, Weight::regular}, left.notes);
  put_list(filling, metrics, {"Further connections", left.further, Weight::regular}, left.further);
  const auto symbols = legend_symbols(metrics, left.symbols);
  const auto put_legend = [&](LegendRows rows) {
    return filling.put([&](double width) { return legend_block(metrics, symbols, width, rows); });
  };
  if (symbols.empty() || put_legend(LegendRows::apart) || put_legend(LegendRows::close))
    left.symbols.clear();
  filling.draw(sketch);
  return left;
}

NotesLeft notes_of(const site::Site& site, const OverviewNotes& notes) {
  NotesLeft all;
  all.states = notes;
  all.dangers = notes.dangers;
  all.notes = site.title.notes;
  all.notes.insert(all.notes.end(), notes.notes.begin(), notes.notes.end());
  return all;
}

}  // namespace linewright::diagram

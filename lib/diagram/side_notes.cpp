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

// Facts and symbols, all or nothing.
bool put_reference(Filling& filling, const Metrics& metrics, const NotesLeft& what) {
  for (const FactBlock& facts : what.facts)
    if (!filling.put([&](double width) { return facts_block(metrics, facts, width); }))
      return false;
  const auto symbols = legend_symbols(metrics, what.symbols);
  return symbols.empty() ||
         filling.put([&](double width) { return legend_block(metrics, symbols, width); });
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
  Filling whole = filling;
  if (places.beside > 0) whole.columns.resize(places.beside);
  if (put_reference(whole, metrics, left)) {
    filling = std::move(whole);
    left.facts.clear();
    left.symbols.clear();
  }
  filling.draw(sketch);
  return left;
}

NotesLeft notes_of(const site::Site& site, const OverviewNotes& notes) {
  NotesLeft all;
  all.states = notes;
  all.dangers = notes.dangers;
  all.notes = site.title.notes;
  all.notes.insert(all.notes.end(), notes.notes.begin(), notes.notes.end());
  all.facts = notes.facts;
  return all;
}

}  // namespace linewright::diagram

#include "input/edits.hpp"

#include <algorithm>
#include <optional>
#include <utility>
#include <vector>

#include <fmt/core.h>

#include "input/device_words.hpp"
#include "input/fields.hpp"
#include "input/nearest.hpp"
#include "input/source_text.hpp"
#include "input/spots.hpp"
#include "input/tree.hpp"
#include "input/tree_changes.hpp"

namespace linewright::input {
namespace {

bool says_the_same(const Word& a, const Word& b) {
  return plain(a.text) == plain(b.text);
}

/// Collects the changes of one text.
class Editor {
 public:
  Editor(std::string_view text, const Node& root, const site::Site& site)
      : to_(text, root), text_(to_.text()), root_(root), site_(site) {}

  std::vector<TextChange> take() { return to_.take(); }

  Done make(const DeviceWords& edit) {
    return with_element(edit.element, [&](const site::Element& element) -> Done {
      const Result<DeviceSpot> spot = device_spot(root_, element);
      if (!spot) return tl::unexpected(spot.error());
      return say(*spot, edit.words);
    });
  }

  /// Keys of one element, all of those that are to be set.
  Done set_keys(const std::string& designation, const std::vector<Entry>& entries) {
    return with_element(designation, [&](const site::Element& element) -> Done {
      if (std::holds_alternative<site::Device>(element.facts) ||
          std::holds_alternative<site::Meter>(element.facts) ||
          std::holds_alternative<site::SurgeProtector>(element.facts))
        return set_device_keys(element, entries);
      const Result<const Node*> spot = keys_spot(root_, element);
      if (!spot) return tl::unexpected(spot.error());
      if ((*spot)->is_map()) return to_.set_in(**spot, entries);
      if (std::holds_alternative<site::Electrode>(element.facts))
        return to_.wrap(**spot, "resistance", entries);
      return TreeChanges::untold(designation);
    });
  }

  Done make(const TakenOut& edit) {
    return with_element(edit.element, [&](const site::Element& element) -> Done {
      if (edit.key.empty()) return take_out_link(element);
      const Result<const Node*> spot = keys_spot(root_, element);
      if (!spot) return tl::unexpected(spot.error());
      for (std::size_t i = 0; (*spot)->is_map() && i < (*spot)->keys.size(); ++i)
        if (plain((*spot)->keys[i].text) == plain(edit.key)) return to_.remove(**spot, i);
      return TreeChanges::untold(edit.key);
    });
  }

  Done make(const StatePosition& edit) {
    const auto state =
        std::ranges::find(site_.states, edit.state, [](const site::State& s) { return s.name; });
    if (state == site_.states.end()) return TreeChanges::untold(edit.state);
    const std::string key = edit.stands.part.empty() ? edit.stands.element
                                                     : edit.stands.element + ":" + edit.stands.part;
    if (const Node* node = state_spot(root_, *state)) {
      if (!node->is_map()) return TreeChanges::untold(edit.state);
      return to_.set_in(*node, {{key, edit.stands.position}});
    }
    return to_.add_to_section("states",
                              {edit.state, whole_state(*state, key, edit.stands.position)});
  }

  Done add_interlocks(const std::vector<const NewInterlock*>& interlocks) {
    const Node* list = find_key(root_, "interlocks");
    std::string lines;
    for (const NewInterlock* each : interlocks) {
      const std::string line = in_words(*each);
      if (list != nullptr && list->is_list() && !list->items.empty()) {
        to_.insert_ahead(*list, 0, line);
      } else {
        lines += fmt::format("{}  - {}{}", to_.margin(), line, text_.line_break());
      }
    }
    if (lines.empty()) return {};
    if (list != nullptr) return fail("'interlocks' holds nothing to add to");
    return to_.append(fmt::format("{}interlocks:{}{}", to_.margin(), text_.line_break(), lines));
  }

  Done make(const NewDevice& edit) {
    return with_element(edit.element, [&](const site::Element& element) -> Done {
      const Result<DeviceSpot> spot = device_spot(root_, element);
      if (!spot) return tl::unexpected(spot.error());
      if (spot->list == nullptr)
        return fail(fmt::format("'{}' stands in no chain of the file", edit.element));
      const std::size_t at = spot->index + (edit.side == NewDevice::Side::behind ? 1 : 0);
      if (at < spot->list->items.size()) return to_.insert_ahead(*spot->list, at, edit.words);
      return to_.insert_behind(*spot->list, edit.words);
    });
  }

  Done add_links(const std::vector<const NewLink*>& links) {
    std::vector<Entry> entries;
    for (const NewLink* link : links)
      entries.push_back({free_link(entries.size()), in_words(*link)});
    const Node* earthing = find_key(root_, "earthing");
    const Node* there = earthing == nullptr ? nullptr : find_key(*earthing, "links");
    if (there != nullptr && there->is_map()) return to_.set_in(*there, entries);
    if (there != nullptr) return fail("'links' holds nothing to add to");
    const Entry all{"links", "{" + in_line(entries) + "}"};
    if (earthing == nullptr) return to_.add_to_section("earthing", all);
    return earthing->is_map() ? to_.set_in(*earthing, {all}) : TreeChanges::untold("earthing");
  }

 private:
  template <class Change>
  Done with_element(const std::string& designation, Change change) {
    const std::size_t element = site_.find(designation);
    if (element == site::none) return TreeChanges::untold(designation);
    return change(site_.elements[element]);
  }

  /// Words in place of those of the line that are about the same thing, or behind its last word.
  Done say(const DeviceSpot& spot, const std::string& words) {
    const Node& line = *spot.line;
    if (!FileText::is_exact(line) || line.text.empty()) return TreeChanges::untold(line.text);
    const std::vector<SaidPhrase> there = phrases_of(line);
    const std::vector<Word> all = words_of(line);
    const Node wanted = scalar(words, {1, 1, static_cast<int>(words.size())});
    for (const SaidPhrase& phrase : phrases_of(wanted)) {
      const auto old = std::ranges::find_if(there, [&](const SaidPhrase& other) {
        return other.about == phrase.about &&
               (other.about != Aspect::other || says_the_same(other.first, phrase.first));
      });
      const auto from = static_cast<std::size_t>(phrase.first.where.column - 1);
      const auto end =
          static_cast<std::size_t>(phrase.last.where.column + phrase.last.where.length - 1);
      const std::string put_in = words.substr(from, end - from);
      if (const Node* key = said_by_key(spot, phrase.about)) {
        const auto value_end = text_.end_of(*key);
        const std::size_t at = text_.byte(key->where);
        if (!value_end) return TreeChanges::untold(line.text);
        to_.put(at, *value_end - at, put_in.substr(put_in.find(' ') + 1));
        continue;
      }
      if (old == there.end()) {
        to_.put(text_.end(all.back().where), 0, " " + put_in);
      } else {
        const std::size_t at = text_.byte(old->first.where);
        to_.put(at, text_.end(old->last.where) - at, put_in);
      }
    }
    return {};
  }

  /// What the long form of a device says by a key, which then counts and not the line.
  static const Node* said_by_key(const DeviceSpot& spot, Aspect about) {
    if (spot.map == nullptr) return nullptr;
    switch (about) {
      case Aspect::neutral_timing:
        return find_key(*spot.map, "neutral");
      case Aspect::rest:
        return find_key(*spot.map, "rest");
      case Aspect::operation:
        return find_key(*spot.map, "operated");
      default:
        return nullptr;
    }
  }

  Done set_device_keys(const site::Element& element, const std::vector<Entry>& entries) {
    const Result<DeviceSpot> spot = device_spot(root_, element);
    if (!spot) return tl::unexpected(spot.error());
    return spot->map != nullptr ? to_.set_in(*spot->map, entries)
                                : to_.wrap(*spot->line, "device", entries);
  }

  Done take_out_link(const site::Element& element) {
    const std::optional<EntrySpot> entry = entry_spot(root_, element);
    if (!entry || !std::holds_alternative<site::Bond>(element.facts))
      return TreeChanges::untold(element.designation);
    return to_.remove(*entry->map, entry->index);
  }

  static std::string in_words(const NewInterlock& interlock) {
    std::string list;
    for (const ElementPosition& each : interlock.never_together) {
      list += list.empty() ? "" : ", ";
      list += each.element + (each.part.empty() ? "" : ":" + each.part);
      if (each.position != "closed") list += ": " + each.position;
    }
    return fmt::format("{{never together: [{}], by: {}}}", list, interlock.means);
  }

  static std::string in_words(const NewLink& link) {
    if (link.closed_in.empty()) return fmt::format("{{at: {}}}", link.at);
    std::string states;
    for (const std::string& state : link.closed_in)
      states += (states.empty() ? "" : ", ") + state;
    return fmt::format("{{at: {}, contact: yes, rest: open, closed in: [{}]}}", link.at, states);
  }

  std::string free_link(std::size_t taken) const {
    for (std::size_t number = 1;; ++number) {
      std::string name = fmt::format("-X{}", number);
      if (site_.find(name) == site::none && taken-- == 0) return name;
    }
  }

  /// A state as the interior gives it, in words of the file, with one position set.
  std::string whole_state(const site::State& state, const std::string& key,
                          const std::string& position) const {
    std::vector<Entry> entries;
    for (const site::PositionOf& each : state.positions) {
      const std::string name =
          site_.elements[each.element].designation + (each.part.empty() ? "" : ":" + each.part);
      if (name != key) entries.push_back({name, each.position});
    }
    entries.push_back({key, position});
    return "{" + in_line(entries) + "}";
  }

  TreeChanges to_;
  const FileText& text_;
  const Node& root_;
  const site::Site& site_;
};

/// The edits of one kind.
template <class T>
std::vector<const T*> those(std::span<const Edit> edits) {
  std::vector<const T*> found;
  for (const Edit& edit : edits)
    if (const auto* one = std::get_if<T>(&edit)) found.push_back(one);
  return found;
}

Done set_all_keys(Editor& editor, std::span<const Edit> edits) {
  std::vector<std::string> elements;
  for (const KeyValue* edit : those<KeyValue>(edits))
    if (std::ranges::count(elements, edit->element) == 0) elements.push_back(edit->element);
  for (const std::string& element : elements) {
    std::vector<Entry> entries;
    for (const KeyValue* edit : those<KeyValue>(edits))
      if (edit->element == element) entries.push_back({edit->key, edit->value});
    if (Done done = editor.set_keys(element, entries); !done) return done;
  }
  return {};
}

template <class T>
Done make_each(Editor& editor, std::span<const Edit> edits) {
  for (const T* edit : those<T>(edits))
    if (Done done = editor.make(*edit); !done) return done;
  return {};
}

/// Words of a line come before keys that are put behind it.
Done make_all(Editor& editor, std::span<const Edit> edits) {
  return make_each<DeviceWords>(editor, edits)
      .and_then([&] { return make_each<NewDevice>(editor, edits); })
      .and_then([&] { return set_all_keys(editor, edits); })
      .and_then([&] { return make_each<StatePosition>(editor, edits); })
      .and_then([&] { return make_each<TakenOut>(editor, edits); })
      .and_then([&] { return editor.add_interlocks(those<NewInterlock>(edits)); })
      .and_then([&] {
        const auto links = those<NewLink>(edits);
        return links.empty() ? Done{} : editor.add_links(links);
      });
}

}  // namespace

Result<std::vector<TextChange>> text_changes(std::string_view yaml, const site::Site& site,
                                             std::span<const Edit> edits) {
  const std::string_view text = without_mark(yaml);
  Mistakes unheard;
  const std::optional<Node> root = parse_tree(text, unheard);
  if (!root || !root->is_map()) return fail("the file cannot be read");
  Editor editor(text, *root, site);
  if (Done done = make_all(editor, edits); !done) return tl::unexpected(done.error());
  auto changes = in_order(editor.take());
  if (!changes) return fail("two of its changes touch the same words");
  for (TextChange& change : *changes)
    change.at += yaml.size() - text.size();
  return std::move(*changes);
}

}  // namespace linewright::input

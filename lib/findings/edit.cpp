#include "findings/edit.hpp"

#include <fmt/core.h>

namespace linewright {
namespace {

std::string words_of(const ElementPosition& at) {
  return at.part.empty() ? fmt::format("{} {}", at.element, at.position)
                         : fmt::format("{}:{} {}", at.element, at.part, at.position);
}

template <class List, class Words>
std::string listed(const List& list, Words words) {
  std::string text;
  for (const auto& item : list)
    text += (text.empty() ? "" : ", ") + words(item);
  return text;
}

struct InWords {
  std::string operator()(const DeviceWords& edit) const {
    return fmt::format("{}: {}", edit.element, edit.words);
  }
  std::string operator()(const KeyValue& edit) const {
    return fmt::format("{}: {}: {}", edit.element, edit.key, edit.value);
  }
  std::string operator()(const TakenOut& edit) const {
    return edit.key.empty() ? fmt::format("{}: taken out", edit.element)
                            : fmt::format("{}: {}: taken out", edit.element, edit.key);
  }
  std::string operator()(const NewInterlock& edit) const {
    const auto word = [](const ElementPosition& at) { return words_of(at); };
    return fmt::format("interlock, {}: never together {}", edit.means,
                       listed(edit.never_together, word));
  }
  std::string operator()(const StatePosition& edit) const {
    return fmt::format("state {}: {}", edit.state, words_of(edit.stands));
  }
  std::string operator()(const NewDevice& edit) const {
    return fmt::format("{} {}: {}", edit.side == NewDevice::Side::ahead ? "ahead of" : "behind",
                       edit.element, edit.words);
  }
  std::string operator()(const NewLink& edit) const {
    const auto same = [](const std::string& state) { return state; };
    return edit.closed_in.empty() ? fmt::format("link of neutral and earth at {}", edit.at)
                                  : fmt::format("link of neutral and earth at {}, closed in {}",
                                                edit.at, listed(edit.closed_in, same));
  }
};

}  // namespace

std::string words_of(const Edit& edit) {
  return std::visit(InWords{}, edit);
}

}  // namespace linewright

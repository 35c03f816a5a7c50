#include "input/mistakes.hpp"

#include <algorithm>
#include <utility>

#include "input/nearest.hpp"

namespace linewright::input {

void Mistakes::add(Place where, std::string message, std::string mend, std::vector<Note> notes) {
  if (full()) return;
  const bool known = std::any_of(found_.begin(), found_.end(), [&](const Mistake& other) {
    return other.where == where && other.message == message;
  });
  if (!known) found_.push_back({where, std::move(message), std::move(mend), std::move(notes)});
}

void Mistakes::add_unknown(Place where, std::string message, std::string_view written,
                           std::span<const std::string_view> known, std::string_view otherwise) {
  if (full()) return;  // looking for near words takes time
  add(where, std::move(message), did_you_mean(written, known, otherwise));
}

std::vector<Mistake> Mistakes::sorted() const {
  std::vector<Mistake> result = found_;
  std::stable_sort(result.begin(), result.end(),
                   [](const Mistake& a, const Mistake& b) { return a.where < b.where; });
  return result;
}

std::string quote(std::string_view words) {
  constexpr std::size_t longest = 60;
  std::string text = "'";
  std::size_t count = 0;
  for (std::size_t i = 0; i < words.size(); ++i) {
    const auto byte = static_cast<unsigned char>(words[i]);
    const bool starts_character = (byte & 0xC0U) != 0x80U;
    if (starts_character && ++count > longest) {
      text += "…";
      break;
    }
    text += byte < 0x20U || byte == 0x7FU ? ' ' : words[i];
  }
  return text + "'";
}

}  // namespace linewright::input

#include "drawing/font_subset.hpp"

#include <memory>

#include <hb-subset.h>

#include "drawing/fonts.hpp"
#include "units/ensure.hpp"

namespace linewright::drawing {

std::optional<std::string> subset_of(hb_font_t* font, std::u32string_view characters) {
  const std::unique_ptr<hb_subset_input_t, decltype(&hb_subset_input_destroy)> input(
      hb_subset_input_create_or_fail(), &hb_subset_input_destroy);
  ENSURE(input != nullptr);
  hb_set_t* wanted = hb_subset_input_unicode_set(input.get());
  for (const char32_t c : characters)
    hb_set_add(wanted, c);
  hb_subset_input_set_flags(input.get(), HB_SUBSET_FLAGS_NO_HINTING);
  const std::unique_ptr<hb_face_t, decltype(&hb_face_destroy)> subset(
      hb_subset_or_fail(hb_font_get_face(font), input.get()), &hb_face_destroy);
  if (subset == nullptr) return {};
  const std::unique_ptr<hb_blob_t, decltype(&hb_blob_destroy)> blob(
      hb_face_reference_blob(subset.get()), &hb_blob_destroy);
  unsigned length = 0;
  const char* bytes = hb_blob_get_data(blob.get(), &length);
  return std::string(bytes, length);
}

std::string subset_font(const FontSet& fonts, Face face, std::u32string_view characters) {
  std::optional<std::string> bytes = subset_of(font(fonts, face), characters);
  ENSURE(bytes || face >= Face::first_given);
  return bytes ? *std::move(bytes) : std::string(font_file(fonts, face));
}

}  // namespace linewright::drawing

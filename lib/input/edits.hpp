// Edits of a site as changes of the text that describes it.
#pragma once

#include <span>
#include <string_view>
#include <vector>

#include "findings/edit.hpp"
#include "input/text_change.hpp"
#include "site/site.hpp"
#include "units/result.hpp"

namespace linewright::input {

/// What the edits change in the text of a site file, in order. `site` is what was read from it.
/// Fails, with the reason in words, where the text that an edit means cannot be told for sure: then
/// nothing is changed rather than the wrong thing.
Result<std::vector<TextChange>> text_changes(std::string_view yaml, const site::Site& site,
                                             std::span<const Edit> edits);

}  // namespace linewright::input

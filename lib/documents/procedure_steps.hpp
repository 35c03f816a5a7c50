// One step of a sequence in the words of the site.
#pragma once

#include "documents/moment.hpp"
#include "documents/procedure.hpp"

namespace linewright::documents {

/// Words of a step between two moments: who does it, what follows by itself, what to verify.
ProcedureStep words_of_step(const Grounds& grounds, const Moment& before,
                            const network::SequenceStep& step, const Moment& after);

/// Whether a procedure energises what was off, or changes over what is in use.
enum class Occasion { first_use, in_use };

/// What to verify once the last step is done: the supply's side dead where it must be; on first
/// use also joints of neutral and earth that no step has verified, and RCD tests of all circuits
/// that are alive then, with their source.
std::vector<std::string> last_checks(const Grounds& grounds, const Moment& start, const Moment& end,
                                     Occasion occasion);

/// What the steps rest on and the file does not say: who moves a device, whether a changeover
/// without off breaks before it makes, or is made for load.
std::vector<std::string> open_points(const Grounds& grounds,
                                     const std::vector<network::SequenceStep>& steps);

/// "put -Q1 to II" with a capital letter, or words for an event.
std::string heading_of(const Grounds& grounds, const network::Move& move);

}  // namespace linewright::documents

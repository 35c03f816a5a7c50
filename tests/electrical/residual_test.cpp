#include "electrical/residual.hpp"

#include <cmath>

#include "electrical/near.hpp"

using namespace linewright;
using namespace linewright::electrical;
using namespace linewright::unit;

namespace {

Bounds<Time> at(RcdDelay delay, double multiple) {
  return rcd_time(delay, 30.0 * milliampere, multiple * 30.0 * milliampere);
}

}  // namespace

TEST_CASE("rcd: which test proves which disconnection time") {
  // An article on wiring rules: at IdN a device without delay is proved for 0.4, 1 and 5 s, at five
  // times that for 0.2 s; type S by the fivefold test for 1 and 5 s.
  CHECK(at(RcdDelay::none, 1).most <= 0.4 * second);
  CHECK(at(RcdDelay::none, 1).most > 0.2 * second);
  CHECK(at(RcdDelay::none, 5).most <= 0.2 * second);
  CHECK(at(RcdDelay::selective, 5).most <= 1.0 * second);
  CHECK(at(RcdDelay::selective, 1).most > 0.4 * second);
}

TEST_CASE("rcd: between two test currents the worse counts") {
  CHECK(at(RcdDelay::none, 4.9).most == 0.15 * second);
  CHECK(at(RcdDelay::selective, 1.5).least == 0.06 * second);
  CHECK(at(RcdDelay::selective, 1.5).most == 0.5 * second);
  CHECK(at(RcdDelay::selective, 1).least == 0.13 * second);
  CHECK(at(RcdDelay::selective, 5).least == 0.05 * second);
  CHECK(std::isinf(at(RcdDelay::none, 0.9).most.si));
  CHECK(std::isinf(at(RcdDelay::none, 0.5).least.si));
  CHECK(!std::isinf(at(RcdDelay::none, 0.51).least.si));
  CHECK(std::isinf(at(RcdDelay::none, std::nan("")).most.si));
}

TEST_CASE("rcd: more residual current never takes longer") {
  for (const RcdDelay delay : {RcdDelay::none, RcdDelay::selective}) {
    Bounds<Time> before = at(delay, 0.1);
    for (double multiple = 0.2; multiple < 20; multiple += 0.1) {
      const Bounds<Time> here = at(delay, multiple);
      CHECK(here.least <= here.most);
      CHECK(here.least <= before.least);
      CHECK(here.most <= before.most);
      before = here;
    }
  }
}

TEST_CASE("rcd: 300 mA type S ahead of 30 mA trips second, and the rule says so") {
  // A catalogue's rule: at least three times, and longer held than the other needs. At 300 mA the
  // downstream one is through in 40 ms while the upstream one waits 130 ms.
  const Rcd upstream{300.0 * milliampere, RcdDelay::selective};
  const Rcd downstream{30.0 * milliampere, RcdDelay::none};
  CHECK(rcds_discriminate(upstream, downstream) == Judgement::holds);
  CHECK(rcd_time(RcdDelay::selective, 300.0 * milliampere, 300.0 * milliampere).least >
        rcd_time(RcdDelay::none, 30.0 * milliampere, 300.0 * milliampere).most);
}

TEST_CASE("rcd: discrimination fails by sensitivity or delay, and is open if either is unknown") {
  const Rcd prompt_30{30.0 * milliampere, RcdDelay::none};
  CHECK(rcds_discriminate({90.0 * milliampere, RcdDelay::selective}, prompt_30) ==
        Judgement::holds);
  CHECK(rcds_discriminate({89.0 * milliampere, RcdDelay::selective}, prompt_30) ==
        Judgement::fails);
  CHECK(rcds_discriminate({300.0 * milliampere, RcdDelay::none}, prompt_30) == Judgement::fails);
  CHECK(rcds_discriminate({300.0 * milliampere, std::nullopt}, prompt_30) == Judgement::unknown);
  CHECK(rcds_discriminate({std::nullopt, RcdDelay::none}, prompt_30) == Judgement::fails);
  // The delay placed downstream is the wrong way round.
  CHECK(rcds_discriminate(prompt_30, {300.0 * milliampere, RcdDelay::selective}) ==
        Judgement::fails);
}

#include "electrical/judgement.hpp"

#include <catch2/catch.hpp>

using namespace linewright::electrical;

TEST_CASE("judgement: what is unknown never passes, and what fails is never hidden by it") {
  static_assert(Judgement{} == Judgement::unknown);
  CHECK(both(Judgement::holds, Judgement::unknown) == Judgement::unknown);
  CHECK(both(Judgement::unknown, Judgement::fails) == Judgement::fails);
  CHECK(both(Judgement::holds, Judgement::holds) == Judgement::holds);
  CHECK(either(Judgement::fails, Judgement::unknown) == Judgement::unknown);
  CHECK(either(Judgement::unknown, Judgement::holds) == Judgement::holds);
  CHECK(either(Judgement::fails, Judgement::fails) == Judgement::fails);
}

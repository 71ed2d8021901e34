/* The ring between interrupt and main loop: order, wrap, full. */
#include "check.h"
#include "edges.h"

void test_edges(void) {
  static struct edges ring;
  stamp_t at = 0;
  uint8_t lines = 0;
  CHECK(!edges_take(&ring, &at, &lines));
  for (unsigned round = 0; round < 5; round++) {
    for (unsigned n = 0; n < EDGES_SPACE - 1u; n++) CHECK(edges_put(&ring, (stamp_t)(1000u * round + n), (uint8_t)n));
    CHECK(!edges_put(&ring, 9999, 99));
    for (unsigned n = 0; n < EDGES_SPACE - 1u; n++) {
      CHECK(edges_take(&ring, &at, &lines));
      CHECK(at == 1000u * round + n && lines == n);
    }
    CHECK(!edges_take(&ring, &at, &lines));
  }
}

/* The ring between interrupt and main loop: order, wrap, full. */
#include "check.h"
#include "edge_queue.h"

void test_edge_queue(void) {
  static struct edge_queue ring;
  tick_t at = 0;
  uint8_t lines = 0;
  CHECK(!edge_queue_take(&ring, &at, &lines));
  for (unsigned round = 0; round < 5; round++) {
    for (unsigned n = 0; n < EDGE_QUEUE_SPACE - 1u; n++) CHECK(edge_queue_put(&ring, (tick_t)(1000u * round + n), (uint8_t)n));
    CHECK(!edge_queue_put(&ring, 9999, 99));
    for (unsigned n = 0; n < EDGE_QUEUE_SPACE - 1u; n++) {
      CHECK(edge_queue_take(&ring, &at, &lines));
      CHECK(at == 1000u * round + n && lines == n);
    }
    CHECK(!edge_queue_take(&ring, &at, &lines));
  }
}

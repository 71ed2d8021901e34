/* The feed counter: quadrature and steps, forwards and back, bouncing, and too fast to count. */
#include "check.h"
#include "feed.h"

#include <string.h>

static const struct feed_facts wheel = {.kind = FEED_QUADRATURE, .edges_per_detent = 4, .fastest = TICKS(100)};
static const struct feed_facts sensor = {.kind = FEED_STEP,
                                         .edges_per_detent = 1,
                                         .settle = TICKS(3000),
                                         .bounce_max = TICKS(5000),
                                         .spike_max = TICKS(60)};

/* A counter under test with its own time and a count of overruns. */
struct bench {
  struct feed feed;
  tick_t now;
  unsigned overruns;
};

static struct bench bench_of(const struct feed_facts *facts, uint8_t lines) {
  struct bench bench = {.now = 65400};
  feed_start(&bench.feed, facts, lines);
  return bench;
}

static void wait(struct bench *bench, unsigned us) {
  for (; us >= 1000; us -= 1000) {
    bench->now = (tick_t)(bench->now + TICKS(1000));
    bench->overruns += feed_poll(&bench->feed, bench->now) == FEED_OVERRUN;
  }
  bench->now = (tick_t)(bench->now + TICKS(us));
  bench->overruns += feed_poll(&bench->feed, bench->now) == FEED_OVERRUN;
}

static void set(struct bench *bench, uint8_t lines, unsigned after_us) {
  wait(bench, after_us);
  bench->overruns += feed_edge(&bench->feed, bench->now, lines) == FEED_OVERRUN;
}

static const uint8_t gray[4] = {0, FEED_A, FEED_A | FEED_B, FEED_B};

/* Turns by quadrature edges, each line bouncing `bounces` times. */
static void turn(struct bench *bench, unsigned *phase, int edges, unsigned edge_us, unsigned bounces) {
  for (; edges != 0; edges += edges > 0 ? -1 : 1) {
    uint8_t from = gray[*phase % 4u];
    *phase += edges > 0 ? 1u : 3u;
    uint8_t to = gray[*phase % 4u];
    set(bench, to, edge_us);
    for (unsigned n = 0; n < bounces; n++) {
      set(bench, from, 20);
      set(bench, to, 20);
    }
  }
}

static void test_quadrature(void) {
  for (uint16_t per_detent = 1; per_detent <= 4; per_detent *= 2) {
    struct feed_facts facts = wheel;
    facts.edges_per_detent = per_detent;
    for (int reversed = 0; reversed < 2; reversed++) {
      facts.reversed = reversed;
      struct bench bench = bench_of(&facts, 0);
      unsigned phase = 0;
      int sign = reversed ? -1 : 1;
      turn(&bench, &phase, 40 * per_detent, 2000, 3);
      CHECK(bench.feed.total == 40 * sign);
      turn(&bench, &phase, -43 * per_detent, 300, 0);
      CHECK(bench.feed.total == -3 * sign);
      turn(&bench, &phase, 3 * per_detent, 250000, 2);
      CHECK(bench.feed.total == 0 && bench.overruns == 0);
    }
  }
}

/* Turning back before the detent is reached counts nothing. */
static void test_half_way(void) {
  struct bench bench = bench_of(&wheel, 0);
  unsigned phase = 0;
  for (int edges = 1; edges < 4; edges++) {
    turn(&bench, &phase, edges, 2000, 1);
    CHECK(bench.feed.total == 0);
    turn(&bench, &phase, -edges, 2000, 1);
    CHECK(bench.feed.total == 0);
  }
  turn(&bench, &phase, 4, 2000, 0);
  turn(&bench, &phase, -1, 2000, 9);
  CHECK(bench.feed.total == 1);
}

/* Started between two detents, the count still changes on the detents. */
static void test_start_between(void) {
  static const struct {
    uint8_t per_detent, rest;
    unsigned start;
    int forward, back; /* edges to the detents either side of the start, as counted from total 0 */
  } table[] = {{4, 0, 1, 3, 5}, {4, 0, 2, 2, 6}, {4, 0, 3, 5, 3},          {4, 3, 2, 4, 4},
               {4, 3, 3, 3, 5}, {4, 3, 0, 2, 6}, {4, 3, 1, 5, 3},          {2, 0, 1, 1, 3},
               {2, 3, 0, 2, 2}, {2, 1, 0, 1, 3}, {2, 0, 3, 1, 3},          {1, 0, 3, 1, 1}};
  for (unsigned n = 0; n < sizeof table / sizeof table[0]; n++) {
    struct feed_facts facts = wheel;
    facts.edges_per_detent = table[n].per_detent;
    facts.rest_lines = table[n].rest;
    struct bench ahead = bench_of(&facts, gray[table[n].start]);
    struct bench behind = ahead;
    unsigned phase = table[n].start;
    turn(&ahead, &phase, table[n].forward - 1, 2000, 0);
    CHECK(ahead.feed.total == 0);
    turn(&ahead, &phase, 1, 2000, 0);
    CHECK(ahead.feed.total == 1);
    phase = table[n].start;
    turn(&behind, &phase, 1 - table[n].back, 2000, 0);
    CHECK(behind.feed.total == 0);
    turn(&behind, &phase, -1, 2000, 0);
    CHECK(behind.feed.total == -1);
  }
}

static void test_too_fast(void) {
  struct bench bench = bench_of(&wheel, 0);
  unsigned phase = 0;
  turn(&bench, &phase, 400, 100, 0);
  CHECK(bench.feed.total == 100 && bench.overruns == 0);
  turn(&bench, &phase, 3, 96, 0);
  CHECK(bench.overruns == 1);
  bench.overruns = 0;
  wait(&bench, 5000);
  set(&bench, gray[(phase + 2u) % 4u], 5000); /* both lines at once, and they stay: an edge was missed */
  wait(&bench, 96);
  CHECK(bench.overruns == 0);
  wait(&bench, 4);
  CHECK(bench.overruns == 1);
  int32_t total = bench.feed.total;
  CHECK(feed_lost(&bench.feed, 0) == FEED_OVERRUN && bench.feed.total == total);
  phase = 0;
  turn(&bench, &phase, 4, 2000, 0);
  CHECK(bench.feed.total == total + 1 && bench.overruns == 1);
}

/* Nothing is counted from the first doubtful edge on until the overrun is reported. */
static void test_nothing_counted_in_doubt(void) {
  for (unsigned edge_us = 4; edge_us < 100; edge_us += 4) {
    struct bench bench = bench_of(&wheel, 0);
    unsigned phase = 0;
    for (unsigned n = 0; n < 800 && bench.overruns == 0; n++) {
      turn(&bench, &phase, 1, edge_us, 0);
      CHECK(bench.overruns > 0 || bench.feed.total == 0);
    }
    CHECK(bench.overruns > 0);
  }
}

/* A spike on both lines at once, or on one after the other, while the wheel stands in a detent or anywhere else. */
static void test_common_spike(void) {
  for (unsigned place = 0; place < 4; place++) {
    for (unsigned skew = 0; skew <= 40; skew += 4) {
      struct bench bench = bench_of(&wheel, gray[place]);
      int16_t part = bench.feed.part;
      for (unsigned n = 0; n < 50; n++) {
        uint8_t rest = gray[place];
        set(&bench, rest ^ FEED_A, 5000);
        set(&bench, rest ^ (FEED_A | FEED_B), skew);
        set(&bench, rest ^ FEED_B, 20);
        set(&bench, rest, skew);
      }
      wait(&bench, 5000);
      CHECK(bench.overruns == 0 && bench.feed.total == 0 && bench.feed.part == part);
    }
  }
}

/* The longest spike that is forgiven: 100 us from its first doubtful edge to its last. */
static void test_longest_spike(void) {
  for (unsigned us = 40; us <= 44; us += 4) {
    struct bench bench = bench_of(&wheel, 0);
    set(&bench, FEED_A, 5000);
    set(&bench, FEED_A | FEED_B, 40);
    set(&bench, FEED_B, 60);
    set(&bench, 0, us);
    wait(&bench, 5000);
    CHECK(bench.overruns == (us > 40));
  }
}

/* A spike on line B just after line A has changed leaves that change counted. */
static void test_spike_after_edge(void) {
  struct bench bench = bench_of(&wheel, 0);
  for (unsigned n = 0; n < 40; n++) {
    uint8_t lines = gray[(n + 1u) % 4u];
    set(&bench, lines, 5000);
    set(&bench, lines ^ (n % 2u ? FEED_A : FEED_B), 40);
    set(&bench, lines, 20);
  }
  wait(&bench, 5000);
  CHECK(bench.overruns == 0 && bench.feed.total == 10);
}

/* Windows that never overlap, and windows of which one is always active: the total would stand still. */
static void test_windows(void) {
  static const uint8_t apart[4] = {FEED_A, 0, FEED_B, 0};
  static const uint8_t together[4] = {FEED_A, FEED_A | FEED_B, FEED_B, FEED_A | FEED_B};
  for (uint16_t per_detent = 1; per_detent <= 4; per_detent *= 2) {
    for (int wide = 0; wide < 2; wide++) {
      struct feed_facts facts = wheel;
      facts.edges_per_detent = per_detent;
      struct feed feed;
      feed_start(&feed, &facts, wide ? FEED_A | FEED_B : 0);
      tick_t now = 0;
      unsigned edges = 0;
      enum feed_result result = FEED_FINE;
      for (; edges < 40 && result == FEED_FINE; edges++) {
        now = (tick_t)(now + TICKS(5000));
        feed_poll(&feed, now);
        result = feed_edge(&feed, now, wide ? together[edges % 4u] : apart[edges % 4u]);
      }
      CHECK(result == FEED_WINDOWS && edges == 13);
    }
  }
  /* Rocking over one edge is no fault, however often. */
  struct bench rocked = bench_of(&wheel, 0);
  for (unsigned n = 0; n < 100; n++) {
    set(&rocked, FEED_A, 5000);
    set(&rocked, 0, 5000);
  }
  CHECK(rocked.feed.swaps == 0 && rocked.overruns == 0);
  /* A wheel that has shown all four pairs may be rocked about its detent for ever. */
  struct bench bench = bench_of(&wheel, 0);
  unsigned phase = 0;
  turn(&bench, &phase, 4, 2000, 0);
  for (unsigned n = 0; n < 400; n++) set(&bench, apart[n % 4u], 5000);
  CHECK(bench.feed.total == 1);
  CHECK(feed_edge(&bench.feed, bench.now, bench.feed.lines) == FEED_FINE);
}

/* An encoder with more lines than the dial has marks: 24 edges to the mark. */
static void test_encoder(void) {
  struct feed_facts facts = wheel;
  facts.edges_per_detent = 24;
  struct bench bench = bench_of(&facts, 0);
  unsigned phase = 0;
  turn(&bench, &phase, 2400, 200, 0);
  CHECK(bench.feed.total == 100);
  turn(&bench, &phase, -2400 - 24 * 7, 200, 1);
  CHECK(bench.feed.total == -7 && bench.overruns == 0);
  facts.edges_per_detent = 1000;
  bench = bench_of(&facts, 0);
  phase = 0;
  turn(&bench, &phase, 999, 200, 0);
  CHECK(bench.feed.total == 0);
  turn(&bench, &phase, 1, 200, 0);
  CHECK(bench.feed.total == 1);
}

/* A change exactly one wrap of the stamps after the last is not taken for a fast one. */
static void test_wrap(void) {
  struct bench bench = bench_of(&wheel, 0);
  set(&bench, FEED_A, 10000);
  wait(&bench, 262144);
  set(&bench, FEED_A | FEED_B, 40);
  CHECK(bench.overruns == 0);
}

static void test_ends(void) {
  struct bench bench = bench_of(&wheel, 0);
  unsigned phase = 0;
  bench.feed.total = INT32_MAX - 1;
  turn(&bench, &phase, 4, 2000, 0);
  CHECK(bench.feed.total == INT32_MAX && bench.overruns == 0);
  turn(&bench, &phase, 4, 2000, 0);
  CHECK(bench.feed.total == INT32_MAX && bench.overruns == 1);
  bench.feed.total = INT32_MIN + 1;
  turn(&bench, &phase, -8, 2000, 0);
  CHECK(bench.feed.total == INT32_MIN && bench.overruns == 2);
}

/* One pulse of line A with bouncing at both ends, line B as given. */
static void pulse(struct bench *bench, uint8_t way, unsigned on_us, unsigned off_us, unsigned bounces) {
  for (unsigned n = 0; n < bounces; n++) {
    set(bench, FEED_A | way, n == 0 ? off_us : 90);
    set(bench, way, 90);
  }
  set(bench, FEED_A | way, bounces ? 90 : off_us);
  for (unsigned n = 0; n < bounces; n++) {
    set(bench, way, n == 0 ? on_us : 90);
    set(bench, FEED_A | way, 90);
  }
  set(bench, way, bounces ? 90 : on_us);
}

static void test_steps(void) {
  struct bench bench = bench_of(&sensor, 0);
  for (unsigned n = 0; n < 25; n++) pulse(&bench, FEED_B, 4000, 4000, n % 6u);
  wait(&bench, 5000);
  CHECK(bench.feed.total == 25);
  for (unsigned n = 0; n < 30; n++) pulse(&bench, 0, 40000, 300000, n % 6u);
  wait(&bench, 5000);
  CHECK(bench.feed.total == -5 && bench.overruns == 0);
  set(&bench, FEED_B, 1000);
  set(&bench, 0, 1000);
  CHECK(bench.feed.total == -5 && bench.overruns == 0);
  set(&bench, FEED_A | FEED_B, 5000); /* the way is the one at the first touch, not a later one */
  set(&bench, FEED_A, 1000);
  wait(&bench, 1900);
  CHECK(bench.feed.total == -5);
  wait(&bench, 100);
  CHECK(bench.feed.total == -4 && bench.overruns == 0);
}

/* A handle rocked to and fro over one edge of the window, and over a whole window, comes back to where it was. */
static void test_steps_rocked(void) {
  static const struct {
    uint8_t from, over;
    int32_t forward; /* what one crossing deeper counts */
    const char *row;
  } table[] = {{0, FEED_A, 1, "over the edge that counts"}, {FEED_A, 0, 0, "over the other edge"}};
  for (unsigned n = 0; n < sizeof table / sizeof table[0]; n++) {
    struct bench bench = bench_of(&sensor, table[n].from);
    for (unsigned k = 0; k < 10; k++) {
      set(&bench, table[n].from | FEED_B, 10000);
      set(&bench, table[n].over | FEED_B, 10000);
      wait(&bench, 10000);
      CHECK_ROW(bench.feed.total == table[n].forward, table[n].row);
      set(&bench, table[n].over, 10000);
      set(&bench, table[n].from, 10000);
      wait(&bench, 10000);
      CHECK_ROW(bench.feed.total == 0 && bench.overruns == 0, table[n].row);
    }
  }
}

static void test_step_limits(void) {
  static const struct {
    unsigned on_us, off_us, pulses;
    bool overrun;
    int32_t total;
    const char *row;
  } table[] = {{3000, 3000, 10, false, 10, "slow enough"},
               {60, 5000, 10, false, 0, "spikes"},
               {64, 9000, 1, true, 0, "longer than a spike, too short to count"},
               {2900, 9000, 1, true, 0, "nearly long enough"},
               {2000, 2000, 10, true, 0, "too fast throughout"},
               {900, 900, 40, true, 0, "much too fast"}};
  for (unsigned n = 0; n < sizeof table / sizeof table[0]; n++) {
    struct bench bench = bench_of(&sensor, 0);
    for (unsigned k = 0; k < table[n].pulses; k++) pulse(&bench, FEED_B, table[n].on_us, table[n].off_us, 0);
    wait(&bench, 10000);
    CHECK_ROW((bench.overruns > 0) == table[n].overrun, table[n].row);
    if (!table[n].overrun) CHECK_ROW(bench.feed.total == table[n].total, table[n].row);
  }
}

/* Bouncing may go on for as long as the facts say, and not longer. */
static void test_long_bounce(void) {
  for (unsigned span = 5000; span <= 5004; span += 4) {
    struct bench bench = bench_of(&sensor, 0);
    set(&bench, FEED_A | FEED_B, 10000);
    set(&bench, FEED_B, 2400);
    set(&bench, FEED_A | FEED_B, span - 2400);
    CHECK(bench.overruns == (span > 5000));
    wait(&bench, 4000);
    CHECK(bench.feed.total == 1);
  }
}

static void test_step_lost(void) {
  struct bench bench = bench_of(&sensor, 0);
  set(&bench, FEED_A | FEED_B, 10000);
  CHECK(feed_lost(&bench.feed, FEED_A) == FEED_OVERRUN);
  wait(&bench, 10000);
  CHECK(bench.feed.total == 0 && bench.overruns == 0);
}

void test_feed(void) {
  test_quadrature();
  test_half_way();
  test_start_between();
  test_too_fast();
  test_nothing_counted_in_doubt();
  test_common_spike();
  test_longest_spike();
  test_spike_after_edge();
  test_windows();
  test_encoder();
  test_wrap();
  test_ends();
  test_steps();
  test_steps_rocked();
  test_step_limits();
  test_long_bounce();
  test_step_lost();
}

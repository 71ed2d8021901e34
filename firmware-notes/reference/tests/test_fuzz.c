/* Five million caliper edges and a million feed edges, judged by second opinions that work on whole lists. */
#include "check.h"
#include "feed.h"
#include "frame.h"
#include "wave.h"

#define CALIPER_EDGES (fuzz_quickly ? 500000ul : 5000000ul)
#define FEED_EDGES (fuzz_quickly ? 100000ul : 1000000ul)
#define SEEN_SPACE 64u

static uint32_t random_state = 20260u;

static uint32_t random_below(uint32_t limit) {
  random_state ^= random_state << 13;
  random_state ^= random_state >> 17;
  random_state ^= random_state << 5;
  return random_state % limit;
}

bool fuzz_quickly;

/* The edges since the last quiet, as plain microseconds. */
struct seen {
  unsigned count;
  uint32_t us[SEEN_SPACE];
  bool data[SEEN_SPACE];
};

/* The second opinion on a burst of edges: all of its intervals at once. */
static bool is_frame(const struct seen *seen) {
  uint32_t least = UINT32_MAX, most = 0;
  if (seen->count != 24) return false;
  for (unsigned n = 1; n < 24; n++) {
    uint32_t us = seen->us[n] - seen->us[n - 1];
    bool between_groups = n == 4 || n == 8 || n == 12 || n == 16 || n == 20;
    if (between_groups ? us < 548 || us > 1000 : us < 180 || us >= 548) return false;
    if (!between_groups && us < least) least = us;
    if (!between_groups && us > most) most = us;
  }
  return most * 10 <= least * 13;
}

static uint32_t bits_of(const struct seen *seen) {
  uint32_t bits = 0;
  for (unsigned n = 0; n < 24; n++) bits |= (uint32_t)seen->data[n] << n;
  return bits;
}

struct rig {
  struct frame frame;
  struct seen seen;
  uint32_t us;
  unsigned long edges, readings;
};

static void judge(struct rig *rig, enum frame_result result, const struct reading *got) {
  bool whole = is_frame(&rig->seen);
  bool possible = whole && (bits_of(&rig->seen) & 0x600000ul) == 0;
  CHECK(result == (possible ? FRAME_READING : whole ? FRAME_IMPOSSIBLE : FRAME_DAMAGED));
  if (possible) {
    rig->readings++;
    CHECK(wave_bits(got->steps, got->negative, got->inch) == bits_of(&rig->seen));
  }
  rig->seen.count = 0;
}

static void let_pass(struct rig *rig, uint32_t us) {
  uint32_t last = rig->seen.count ? rig->seen.us[rig->seen.count - 1] : 0;
  rig->us += us;
  struct reading got = {0, false, false};
  enum frame_result result = frame_poll(&rig->frame, (tick_t)(rig->us / TICK_US), &got);
  if (rig->seen.count > 0 && rig->us - last >= 4000) {
    judge(rig, result, &got);
  } else {
    CHECK(result == FRAME_NONE);
  }
}

static void edge(struct rig *rig, bool data) {
  frame_edge(&rig->frame, (tick_t)(rig->us / TICK_US), true, DATA(data));
  rig->edges++;
  if (rig->seen.count == SEEN_SPACE) rig->seen.count--; /* far too many already: the last is enough */
  rig->seen.us[rig->seen.count] = rig->us;
  rig->seen.data[rig->seen.count++] = data;
}

static void play(struct rig *rig, const struct wave *wave) {
  for (unsigned n = 0; n < wave->count; n++) {
    uint32_t us = (uint32_t)wave->gap[n] * TICK_US;
    if (random_below(3) == 0 && us > 40) {
      let_pass(rig, us - 40);
      let_pass(rig, 40);
    } else {
      let_pass(rig, us);
    }
    edge(rig, wave->data[n]);
  }
  let_pass(rig, 4000 + 4 * random_below(30000));
}

static struct wave random_wave(void) {
  struct wave wave = wave_of(random_below(1ul << 24) & (random_below(20) ? 0x9FFFFFul : 0xFFFFFFul), 184 + 4 * random_below(90), 560 + 4 * random_below(110), 400);
  for (unsigned n = 1; n < wave.count; n++) wave.gap[n] = (tick_t)(wave.gap[n] + random_below(5) - 2u);
  for (unsigned harm = random_below(4); harm > 1; harm--) {
    if (random_below(2)) {
      wave_drop(&wave, random_below(wave.count));
    } else {
      unsigned n = random_below(wave.count - 1);
      uint32_t room = (uint32_t)wave.gap[n + 1] * TICK_US;
      if (room > 8) wave_add(&wave, n, 4 + random_below(room - 8), random_below(2));
    }
  }
  return wave;
}

static void noise(struct rig *rig) {
  for (unsigned n = random_below(60); n > 0; n--) {
    let_pass(rig, 4 * random_below(random_below(8) ? 150 : 1200));
    edge(rig, random_below(2));
  }
  let_pass(rig, 4000 + 4 * random_below(3000));
}

static void fuzz_caliper(void) {
  static struct rig rig;
  frame_start(&rig.frame, &wave_limits, 0);
  rig.frame.data_moved = true;
  let_pass(&rig, 4000);
  while (rig.edges < CALIPER_EDGES) {
    if (random_below(6) == 0) {
      noise(&rig);
    } else {
      struct wave wave = random_wave();
      play(&rig, &wave);
    }
  }
  CHECK(rig.readings > CALIPER_EDGES / 100);
}

/* A wheel that jerks about, now and then too fast: the total is exact until an overrun is reported. A jerk counts as
   one only if the wheel does not come back to where it was within 100 us. */
static void fuzz_quadrature(void) {
  static const struct feed_facts facts = {.kind = FEED_QUADRATURE, .edges_per_detent = 4, .fastest = TICKS(100)};
  static const uint8_t gray[4] = {0, 1, 3, 2};
  struct feed feed;
  tick_t now = 0;
  long edges = 0, detents = 0;
  unsigned long overruns = 0;
  feed_start(&feed, &facts, 0);
  feed.phases_seen = 0x0F;
  for (unsigned long n = 0; n < FEED_EDGES; n++) {
    bool missed = random_below(2000) == 0;
    int way = random_below(100) < 47 ? -1 : 1;
    now = (tick_t)(now + 25 + random_below(4000));
    CHECK(feed_poll(&feed, now) == FEED_FINE);
    edges += missed ? 2 * way : way;
    while (edges >= 4 * (detents + 1)) detents++;
    while (edges <= 4 * (detents - 1)) detents--;
    CHECK(feed_edge(&feed, now, gray[(unsigned long)edges % 4u]) == FEED_FINE);
    enum feed_result settled = feed_poll(&feed, (tick_t)(now + TICKS(100)));
    CHECK(settled == (missed ? FEED_OVERRUN : FEED_FINE));
    if (!missed) {
      CHECK(feed.total == detents);
      continue;
    }
    overruns++;
    feed_start(&feed, &facts, 0);
    feed.phases_seen = 0x0F;
    feed_edge(&feed, now, 0);
    edges = detents = 0;
  }
  CHECK(overruns > FEED_EDGES / 5000 && overruns < FEED_EDGES / 1000);
}

/* A wheel with a position: line A is active in one half of each detent, line B says which way it turns. Whatever it
   does, bouncing as much as the facts allow, the total is the number of detent starts that lie behind it. */
static void fuzz_steps(void) {
  static const struct feed_facts facts = {
      .kind = FEED_STEP, .settle = TICKS(3000), .bounce_max = TICKS(5000), .spike_max = TICKS(60)};
  struct feed feed;
  tick_t now = 0;
  long half_detents = 0;
  feed_start(&feed, &facts, 0);
  for (unsigned long n = 0; n < FEED_EDGES / 10; n++) {
    int way = random_below(100) < 49 ? -1 : 1;
    half_detents += way;
    uint8_t level = half_detents % 2 != 0 ? FEED_A : 0;
    uint8_t direction = way > 0 ? FEED_B : 0;
    for (unsigned k = 1 + 2 * random_below(4); k > 0; k--) {
      uint8_t lines = (uint8_t)((k & 1u ? level : level ^ FEED_A) | direction);
      CHECK(feed_edge(&feed, now, lines) == FEED_FINE);
      now = (tick_t)(now + 1 + random_below(180));
    }
    for (unsigned ms = 4 + random_below(60); ms > 0; ms--) {
      now = (tick_t)(now + TICKS(1000));
      CHECK(feed_poll(&feed, now) == FEED_FINE);
    }
    CHECK(feed.total == (half_detents >= 0 ? (half_detents + 1) / 2 : -(-half_detents / 2)));
  }
}

void test_fuzz(void) {
  fuzz_caliper();
  fuzz_quadrature();
  fuzz_steps();
}

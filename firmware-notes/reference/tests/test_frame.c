/* Tables of good and bad frames for the decoder, at the edge of every limit and across the wrap of the ticks. */
#include "check.h"
#include "frame.h"
#include "wave.h"

/* Plays a wave from `from` on, polling on the way as the main loop does, and returns what the end decides. */
static enum frame_result play(struct frame *frame, const struct wave *wave, tick_t *now, struct reading *out) {
  enum frame_result result = FRAME_NONE;
  for (unsigned n = 0; n < wave->count; n++) {
    *now = (tick_t)(*now + wave->gap[n]);
    enum frame_result early = frame_poll(frame, *now, out);
    CHECK(n == 0 || early == FRAME_NONE);
    frame_edge(frame, *now, true, DATA(wave->data[n]));
  }
  CHECK(frame_poll(frame, (tick_t)(*now + wave_limits.quiet - 1u), out) == FRAME_NONE);
  *now = (tick_t)(*now + wave_limits.quiet);
  result = frame_poll(frame, *now, out);
  CHECK(frame_poll(frame, *now, out) == FRAME_NONE);
  return result;
}

static struct frame listening(tick_t now) {
  struct frame frame;
  struct reading reading;
  frame_start(&frame, &wave_limits, (tick_t)(now - wave_limits.quiet));
  CHECK(frame_poll(&frame, now, &reading) == FRAME_NONE);
  frame.data_moved = true;
  return frame;
}

static enum frame_result verdict(struct wave wave) {
  tick_t now = 60000;
  struct frame frame = listening(now);
  struct reading reading;
  return play(&frame, &wave, &now, &reading);
}

static void test_values(void) {
  static const struct reading good[] = {
      {0, false, false},       {1, false, false},       {1, true, false},        {5234, false, false},
      {4121, false, true},     {1048575, false, false}, {1048575, true, false},  {1048575, false, true},
      {1048575, true, true},   {0, false, true},        {0, true, false},        {524288, false, false},
      {349525, false, false},  {699050, true, true}};
  for (unsigned n = 0; n < sizeof good / sizeof good[0]; n++) {
    for (unsigned start = 0; start < 65536; start += 4099) {
      tick_t now = (tick_t)start;
      struct frame frame = listening(now);
      struct wave wave = wave_of(wave_bits(good[n].steps, good[n].negative, good[n].inch), 370, 740, 5000);
      struct reading got = {77, true, true};
      CHECK(play(&frame, &wave, &now, &got) == FRAME_READING);
      CHECK(got.steps == good[n].steps && got.negative == good[n].negative && got.inch == good[n].inch);
    }
  }
}

/* The same frames with every level turned over, as by a caliper joined upside down, are no readings at any value. */
static void test_impossible_bits(void) {
  for (uint32_t bits = 0; bits < 40000; bits += 777) {
    CHECK(verdict(wave_of(bits, 370, 740, 5000)) == FRAME_READING);
    CHECK(verdict(wave_of(bits | 0x200000ul, 370, 740, 5000)) == FRAME_IMPOSSIBLE);
    CHECK(verdict(wave_of(bits | 0x400000ul, 370, 740, 5000)) == FRAME_IMPOSSIBLE);
    CHECK(verdict(wave_of(~bits, 370, 740, 5000)) == FRAME_IMPOSSIBLE);
  }
}

static void test_longest(void) {
  static const struct {
    uint32_t steps;
    bool inch;
    enum frame_result verdict;
  } table[] = {{32000, false, FRAME_READING},
               {32001, false, FRAME_IMPOSSIBLE},
               {25196, true, FRAME_READING},
               {25197, true, FRAME_IMPOSSIBLE}};
  struct frame_limits limits = wave_limits;
  limits.longest_mm = 32000;
  limits.longest_inch = 25196;
  for (unsigned n = 0; n < sizeof table / sizeof table[0]; n++) {
    for (int negative = 0; negative < 2; negative++) {
      tick_t now = 60000;
      struct frame frame = listening(now);
      frame.limits = &limits;
      struct wave wave = wave_of(wave_bits(table[n].steps, negative, table[n].inch), 370, 740, 5000);
      struct reading got;
      CHECK(play(&frame, &wave, &now, &got) == table[n].verdict);
    }
  }
}

/* Plays both edges of the clock; data at the other edge comes from `between`. */
static enum frame_result play_both_edges(struct frame *frame, const struct wave *wave, tick_t *now, bool sample_rising,
                                         enum data_level (*between)(const struct wave *, unsigned)) {
  struct reading got;
  for (unsigned n = 0; n < wave->count; n++) {
    *now = (tick_t)(*now + wave->gap[n] - TICKS(180));
    frame_poll(frame, *now, &got);
    frame_edge(frame, *now, !sample_rising, between(wave, n));
    *now = (tick_t)(*now + TICKS(180));
    frame_edge(frame, *now, sample_rising, DATA(wave->data[n]));
  }
  *now = (tick_t)(*now + wave_limits.quiet);
  return frame_poll(frame, *now, &got);
}

static enum data_level settled_before(const struct wave *wave, unsigned n) { return DATA(wave->data[n]); }
static enum data_level settled_late(const struct wave *wave, unsigned n) { return DATA(n > 0 && wave->data[n - 1]); }
static enum data_level always_high(const struct wave *wave, unsigned n) {
  (void)wave;
  (void)n;
  return DATA_HIGH;
}
static enum data_level unsteady(const struct wave *wave, unsigned n) {
  (void)wave;
  (void)n;
  return DATA_UNSTEADY;
}

/* What the caliper sent, for a sampled bit that a disturbance has turned over. */
static uint32_t sent_bits;
static enum data_level as_sent(const struct wave *wave, unsigned n) {
  (void)wave;
  return DATA((sent_bits >> n) & 1u);
}
static enum data_level as_sent_late(const struct wave *wave, unsigned n) {
  (void)wave;
  return DATA(n > 0 && (sent_bits >> (n - 1u)) & 1u);
}

static void test_both_edges(void) {
  for (int rising = 0; rising < 2; rising++) {
    struct frame_limits limits = wave_limits;
    limits.sample_rising = rising;
    tick_t now = 60000;
    struct frame frame = listening(now);
    frame.limits = &limits;
    struct wave wave = wave_of(0xABCDE, 370, 740, 5000);
    CHECK(play_both_edges(&frame, &wave, &now, rising, settled_before) == FRAME_READING);
    CHECK(play_both_edges(&frame, &wave, &now, rising, settled_late) == FRAME_READING);
    /* The last bit of the frame before says nothing about the first of this one. */
    struct wave inch = wave_of(wave_bits(77, false, true), 370, 740, 5000);
    CHECK(play_both_edges(&frame, &inch, &now, rising, settled_before) == FRAME_READING);
    CHECK(play_both_edges(&frame, &wave, &now, rising, settled_late) == FRAME_READING);
    CHECK(play_both_edges(&frame, &wave, &now, rising, unsteady) == FRAME_READING);
    wave = wave_of(0, 370, 740, 5000);
    CHECK(play_both_edges(&frame, &wave, &now, rising, settled_before) == FRAME_READING);
    /* Data joined to the clock: high while the clock is high. Sampled on the falling edge it would read as 0.00. */
    if (!rising) CHECK(play_both_edges(&frame, &wave, &now, rising, always_high) == FRAME_IMPOSSIBLE);
  }
}

/* One level turned over at its sampling edge alone; of a late caliper's first bit nothing is known. */
static void test_flipped_bit(void) {
  for (unsigned bit = 0; bit < 20; bit++) {
    for (uint32_t bits = 0; bits < 1000000; bits += 99991) {
      tick_t now = 60000;
      struct frame frame = listening(now);
      sent_bits = bits;
      struct wave wave = wave_of(bits ^ (1ul << bit), 370, 740, 5000);
      CHECK(play_both_edges(&frame, &wave, &now, true, as_sent) == FRAME_IMPOSSIBLE);
      if (bit > 0) CHECK(play_both_edges(&frame, &wave, &now, true, as_sent_late) == FRAME_IMPOSSIBLE);
    }
  }
}

/* A data lead that is open or shorted reads as zero for ever; so does a caliper that stands at zero, until it moves. */
static void test_data_never_moved(void) {
  tick_t now = 60000;
  struct frame frame = listening(now);
  struct reading got;
  struct wave zero = wave_of(0, 370, 740, 5000);
  struct wave one = wave_of(1, 370, 740, 5000);
  frame.data_moved = false;
  CHECK(play(&frame, &zero, &now, &got) == FRAME_IMPOSSIBLE);
  CHECK(play(&frame, &one, &now, &got) == FRAME_READING);
  CHECK(play(&frame, &zero, &now, &got) == FRAME_READING && got.steps == 0);
  frame_forget(&frame);
  CHECK(play(&frame, &zero, &now, &got) == FRAME_IMPOSSIBLE);
}

static void test_unsteady_data(void) {
  for (unsigned bad = 0; bad < FRAME_BITS; bad++) {
    tick_t now = 60000;
    struct frame frame = listening(now);
    struct reading got;
    for (unsigned n = 0; n < FRAME_BITS; n++) {
      now = (tick_t)(now + (n % 4 == 0 ? TICKS(740) : TICKS(370)));
      frame_edge(&frame, now, true, n == bad ? DATA_UNSTEADY : DATA_LOW);
    }
    CHECK(frame_poll(&frame, (tick_t)(now + wave_limits.quiet), &got) == FRAME_DAMAGED);
  }
}

/* A lead that changes its level once and rests is no frame, and no damaged one either. */
static void test_lone_edge(void) {
  tick_t now = 60000;
  struct frame frame = listening(now);
  struct reading got;
  frame_edge(&frame, now, false, DATA_LOW);
  CHECK(frame_poll(&frame, (tick_t)(now + wave_limits.quiet), &got) == FRAME_NONE);
}

static void test_limits(void) {
  static const struct {
    unsigned bit_us, gap_us;
    enum frame_result verdict;
    const char *row;
  } table[] = {{180, 740, FRAME_READING, "fastest bits"},     {176, 740, FRAME_DAMAGED, "bits too fast"},
               {544, 740, FRAME_READING, "slowest bits"},     {548, 740, FRAME_DAMAGED, "bits too slow"},
               {370, 548, FRAME_READING, "shortest gaps"},    {370, 544, FRAME_DAMAGED, "gaps too short"},
               {370, 1000, FRAME_READING, "longest gaps"},    {370, 1004, FRAME_DAMAGED, "gaps too long"},
               {370, 3996, FRAME_DAMAGED, "gaps just short of quiet"}};
  for (unsigned n = 0; n < sizeof table / sizeof table[0]; n++) {
    CHECK_ROW(verdict(wave_of(0xABCDEu, table[n].bit_us, table[n].gap_us, 5000)) == table[n].verdict, table[n].row);
  }
}

/* One interval out of beat, at every place inside a group: 1.3 times is the limit. */
static void test_beat(void) {
  for (unsigned n = 1; n < FRAME_BITS; n++) {
    if (n % 4 == 0) continue;
    struct wave wave = wave_of(0xABCDEu, 300, 740, 5000);
    wave.gap[n] = TICKS(388);
    CHECK(verdict(wave) == FRAME_READING);
    wave.gap[n] = TICKS(392);
    CHECK(verdict(wave) == FRAME_DAMAGED);
    wave.gap[n] = TICKS(232);
    CHECK(verdict(wave) == FRAME_READING);
    wave.gap[n] = TICKS(228);
    CHECK(verdict(wave) == FRAME_DAMAGED);
  }
}

/* An edge that only moved by a third of a bit reads the same level, so such a frame may pass. */
static void test_lost_and_added(void) {
  for (unsigned lost = 0; lost < FRAME_BITS; lost++) {
    struct wave wave = wave_of(0xABCDEu, 370, 740, 5000);
    wave_drop(&wave, lost);
    CHECK(verdict(wave) == FRAME_DAMAGED);
    for (unsigned after = 0; after + 1 < wave.count; after++) {
      for (unsigned us = 20; us < TICK_US * wave.gap[after + 1]; us += 30) {
        struct wave both = wave;
        wave_add(&both, after, us, true);
        unsigned was = lost % 4 == 0 ? 740 : 370;
        bool moved_little = after + 1 == lost && us + 115 > was && us < was + 115;
        if (!moved_little) CHECK(verdict(both) == FRAME_DAMAGED);
      }
    }
  }
  for (unsigned after = 0; after < FRAME_BITS; after++) {
    for (unsigned us = 20; us < 700; us += 30) {
      struct wave wave = wave_of(0xABCDEu, 370, 740, 5000);
      if (after + 1 < wave.count && us >= TICK_US * wave.gap[after + 1]) continue;
      wave_add(&wave, after, us, false);
      CHECK(verdict(wave) == FRAME_DAMAGED);
    }
  }
}

static void test_cut_short(void) {
  for (unsigned count = 1; count < FRAME_BITS; count++) {
    struct wave wave = wave_of(0xABCDEu, 370, 740, 5000);
    wave.count = count;
    CHECK(verdict(wave) == FRAME_DAMAGED);
  }
}

/* A clock that never pauses makes no frame, also when its count of edges has wrapped. */
static void test_no_pause(void) {
  tick_t now = 100;
  struct frame frame = listening(now);
  struct reading got;
  for (unsigned n = 0; n < 256u + FRAME_BITS; n++) {
    now = (tick_t)(now + (n % 4 == 0 ? TICKS(740) : TICKS(370)));
    frame_edge(&frame, now, true, DATA_HIGH);
  }
  CHECK(frame_poll(&frame, (tick_t)(now + wave_limits.quiet), &got) == FRAME_DAMAGED);
}

/* Whatever went before, the frame after the next quiet is read. */
static void test_next_frame(void) {
  tick_t now = 65000;
  struct frame frame = listening(now);
  struct reading got = {0, false, false};
  for (unsigned cut = 1; cut < 40; cut++) {
    struct wave bad = wave_of(0x12345u, 370, 740, 4000);
    while (bad.count < cut) wave_add(&bad, bad.count - 1, 370, true);
    if (cut < FRAME_BITS) bad.count = cut;
    if (cut != FRAME_BITS) CHECK(play(&frame, &bad, &now, &got) == FRAME_DAMAGED);
    struct wave good = wave_of(cut, 370, 740, 0);
    CHECK(play(&frame, &good, &now, &got) == FRAME_READING && got.steps == cut);
  }
}

/* A board that starts in the middle of a frame drops the rest of it without a word. */
static void test_late_start(void) {
  for (unsigned missed = 0; missed <= FRAME_BITS; missed++) {
    tick_t now = 50000;
    struct frame frame;
    struct reading got;
    frame_start(&frame, &wave_limits, now);
    struct wave rest = wave_of(0xABCDEu, 370, 740, 100);
    for (unsigned n = 0; n < missed; n++) wave_drop(&rest, 0);
    if (rest.count > 0) rest.gap[0] = TICKS(100);
    CHECK(play(&frame, &rest, &now, &got) == FRAME_NONE);
    struct wave next = wave_of(321, 370, 740, 100);
    CHECK(play(&frame, &next, &now, &got) == FRAME_READING && got.steps == 321);
  }
}

static void test_lost_edges(void) {
  tick_t now = 10;
  struct frame frame = listening(now);
  struct reading got;
  frame_lost(&frame, now);
  struct wave rest = wave_of(0xABCDEu, 370, 740, 100);
  CHECK(play(&frame, &rest, &now, &got) == FRAME_DAMAGED);
  struct wave next = wave_of(99, 370, 740, 0);
  CHECK(play(&frame, &next, &now, &got) == FRAME_READING && got.steps == 99);
}

static void test_no_groups(void) {
  static const struct frame_limits even = {.edge_min = 20, .gap_min = 100, .gap_max = 200, .quiet = 1000, .group = 24,
                                           .even_tenths = 13, .sample_rising = true, .longest_mm = 100};
  struct frame frame;
  struct reading got;
  tick_t now = 0;
  frame_start(&frame, &even, now);
  now = 1000;
  CHECK(frame_poll(&frame, now, &got) == FRAME_NONE);
  for (unsigned n = 0; n < FRAME_BITS; n++) frame_edge(&frame, now = (tick_t)(now + 50u), true, DATA(n == 3 || n == 4));
  CHECK(frame_poll(&frame, (tick_t)(now + 1000u), &got) == FRAME_READING && got.steps == 24);
}

void test_frame(void) {
  test_values();
  test_impossible_bits();
  test_longest();
  test_both_edges();
  test_flipped_bit();
  test_data_never_moved();
  test_unsteady_data();
  test_lone_edge();
  test_limits();
  test_beat();
  test_lost_and_added();
  test_cut_short();
  test_no_pause();
  test_next_frame();
  test_late_start();
  test_lost_edges();
  test_no_groups();
}

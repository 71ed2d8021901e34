/* Tables of good and bad frames for the decoder, at the edge of every limit and across the wrap of the stamps. */
#include "check.h"
#include "frame.h"
#include "wave.h"

/* Plays a wave from `from` on, polling on the way as the main loop does, and returns what the end decides. */
static enum frame_result play(struct frame *frame, const struct wave *wave, stamp_t *now, struct reading *out) {
  enum frame_result result = FRAME_NONE;
  for (unsigned n = 0; n < wave->count; n++) {
    *now = (stamp_t)(*now + wave->gap[n]);
    enum frame_result early = frame_poll(frame, *now, out);
    CHECK(n == 0 || early == FRAME_NONE);
    frame_edge(frame, *now, wave->data[n]);
  }
  CHECK(frame_poll(frame, (stamp_t)(*now + wave_limits.quiet - 1u), out) == FRAME_NONE);
  *now = (stamp_t)(*now + wave_limits.quiet);
  result = frame_poll(frame, *now, out);
  CHECK(frame_poll(frame, *now, out) == FRAME_NONE);
  return result;
}

static struct frame listening(stamp_t now) {
  struct frame frame;
  struct reading reading;
  frame_start(&frame, &wave_limits, (stamp_t)(now - wave_limits.quiet));
  CHECK(frame_poll(&frame, now, &reading) == FRAME_NONE);
  return frame;
}

static enum frame_result verdict(struct wave wave) {
  stamp_t now = 60000;
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
      stamp_t now = (stamp_t)start;
      struct frame frame = listening(now);
      struct wave wave = wave_of(wave_bits(good[n].steps, good[n].negative, good[n].inch), 370, 740, 5000);
      struct reading got = {77, true, true};
      CHECK(play(&frame, &wave, &now, &got) == FRAME_READING);
      CHECK(got.steps == good[n].steps && got.negative == good[n].negative && got.inch == good[n].inch);
    }
  }
}

static void test_unused_bits(void) {
  stamp_t now = 100;
  struct frame frame = listening(now);
  struct wave wave = wave_of(0x600000ul | 42u, 370, 740, 5000);
  struct reading got;
  CHECK(play(&frame, &wave, &now, &got) == FRAME_READING);
  CHECK(got.steps == 42 && !got.negative && !got.inch);
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
    wave.gap[n] = STAMPS(388);
    CHECK(verdict(wave) == FRAME_READING);
    wave.gap[n] = STAMPS(392);
    CHECK(verdict(wave) == FRAME_DAMAGED);
    wave.gap[n] = STAMPS(232);
    CHECK(verdict(wave) == FRAME_READING);
    wave.gap[n] = STAMPS(228);
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
      for (unsigned us = 20; us < STAMP_US * wave.gap[after + 1]; us += 30) {
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
      if (after + 1 < wave.count && us >= STAMP_US * wave.gap[after + 1]) continue;
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
  stamp_t now = 100;
  struct frame frame = listening(now);
  struct reading got;
  for (unsigned n = 0; n < 256u + FRAME_BITS; n++) {
    now = (stamp_t)(now + (n % 4 == 0 ? STAMPS(740) : STAMPS(370)));
    frame_edge(&frame, now, true);
  }
  CHECK(frame_poll(&frame, (stamp_t)(now + wave_limits.quiet), &got) == FRAME_DAMAGED);
}

/* Whatever went before, the frame after the next quiet is read. */
static void test_next_frame(void) {
  stamp_t now = 65000;
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
    stamp_t now = 50000;
    struct frame frame;
    struct reading got;
    frame_start(&frame, &wave_limits, now);
    struct wave rest = wave_of(0xABCDEu, 370, 740, 100);
    for (unsigned n = 0; n < missed; n++) wave_drop(&rest, 0);
    if (rest.count > 0) rest.gap[0] = STAMPS(100);
    CHECK(play(&frame, &rest, &now, &got) == FRAME_NONE);
    struct wave next = wave_of(321, 370, 740, 100);
    CHECK(play(&frame, &next, &now, &got) == FRAME_READING && got.steps == 321);
  }
}

static void test_lost_edges(void) {
  stamp_t now = 10;
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
                                           .even_tenths = 13};
  struct frame frame;
  struct reading got;
  stamp_t now = 0;
  frame_start(&frame, &even, now);
  now = 1000;
  CHECK(frame_poll(&frame, now, &got) == FRAME_NONE);
  for (unsigned n = 0; n < FRAME_BITS; n++) frame_edge(&frame, now = (stamp_t)(now + 50u), n == 3 || n == 4);
  CHECK(frame_poll(&frame, (stamp_t)(now + 1000u), &got) == FRAME_READING && got.steps == 24);
}

void test_frame(void) {
  test_values();
  test_unused_bits();
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

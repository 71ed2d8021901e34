/* The whole board but for its hardware: silence, overrun, restart, questions and the wrap of the milliseconds. */
#include "check.h"
#include "unit.h"
#include "wave.h"

#include <stdlib.h>
#include <string.h>

static const struct unit_facts facts_here = {
    .who = {"0.1.0", "bench-09", "caliper+feed+button"},
    .has_caliper = true,
    .has_feed = true,
    .caliper = {.edge_min = STAMPS(180),
                .gap_min = STAMPS(550),
                .gap_max = STAMPS(1000),
                .quiet = STAMPS(4000),
                .group = 4,
                .even_tenths = 13},
    .caliper_silent_ms = 1000,
    .feed = {.kind = FEED_QUADRATURE,
             .edges_per_detent = 4,
             .fastest = STAMPS(100),
             .bounce_max = STAMPS(5000),
             .spike_max = STAMPS(60)},
    .feed_calm_ms = 250,
    .button_settle_ms = 15,
};

/* A unit with its own time; every line it says is kept until it is asked for. */
struct stand {
  struct unit unit;
  stamp_t now;
  uint8_t pressed;
  char said[4096];
};

static void hear(struct stand *stand) {
  struct line line;
  while (unit_line(&stand->unit, &line)) {
    size_t used = strlen(stand->said);
    if (!CHECK(used + line.length < sizeof stand->said)) abort();
    memcpy(stand->said + used, line.text, line.length);
    stand->said[used + line.length] = 0;
  }
}

static void wait_ms(struct stand *stand, unsigned ms) {
  for (; ms > 0; ms--) {
    stand->now = (stamp_t)(stand->now + STAMPS(1000));
    unit_tick(&stand->unit, stand->now, 1, stand->pressed);
    hear(stand);
  }
}

static struct stand *stand_of(const struct unit_facts *facts, uint8_t faults) {
  static struct stand stand;
  stand = (struct stand){.now = 65000};
  unit_start(&stand.unit, facts, faults, stand.now, 0);
  hear(&stand);
  return &stand;
}

/* How often `text` was said since the last call. */
static unsigned heard(struct stand *stand, const char *text) {
  unsigned times = 0;
  for (const char *at = stand->said; (at = strstr(at, text)) != NULL; at += strlen(text)) times++;
  return times;
}

static void forget(struct stand *stand) { stand->said[0] = 0; }

static void show(struct stand *stand, uint32_t bits) {
  struct wave wave = wave_of(bits, 370, 740, 0);
  for (unsigned n = 0; n < wave.count; n++) {
    stand->now = (stamp_t)(stand->now + wave.gap[n]);
    unit_caliper_edge(&stand->unit, stand->now, wave.data[n]);
  }
  wait_ms(stand, 10);
}

static void test_start(void) {
  struct stand *stand = stand_of(&facts_here, 0);
  CHECK(strncmp(stand->said, "HI,0,0,1,0.1.0,", 15) == 0);
  CHECK(heard(stand, "\nFE,1,0,0*") == 1 && heard(stand, "FA,") == 0);
  stand = stand_of(&facts_here, FAULT_BROWNOUT);
  CHECK(heard(stand, "\nFA,1,0,brownout*") == 1);
  stand = stand_of(&facts_here, FAULT_WATCHDOG);
  CHECK(heard(stand, "\nFA,1,0,watchdog*") == 1);
}

static void test_silence(void) {
  struct stand *stand = stand_of(&facts_here, 0);
  wait_ms(stand, 999);
  CHECK(heard(stand, "caliper-silent") == 0);
  wait_ms(stand, 1);
  CHECK(heard(stand, "caliper-silent") == 1);
  forget(stand);
  wait_ms(stand, 60000);
  CHECK(heard(stand, "caliper") == 0 && heard(stand, "FE,") == 60);
  forget(stand);
  show(stand, 5234);
  CHECK(heard(stand, "caliper-back") == 1 && heard(stand, ",52.34,mm*") == 1);
  CHECK(strstr(stand->said, "caliper-back") < strstr(stand->said, "52.34"));
  wait_ms(stand, 900);
  show(stand, 5235);
  CHECK(heard(stand, "caliper-") == 1 && heard(stand, ",52.35,mm*") == 1);
  forget(stand);
  wait_ms(stand, 2000);
  CHECK(heard(stand, "caliper-silent") == 1);
}

static void test_damaged(void) {
  struct stand *stand = stand_of(&facts_here, 0);
  wait_ms(stand, 10);
  show(stand, 100);
  unit_caliper_edge(&stand->unit, stand->now, true);
  wait_ms(stand, 10);
  CHECK(heard(stand, "caliper-frame") == 1 && heard(stand, "DI,") == 1);
  unit_caliper_lost(&stand->unit, stand->now);
  wait_ms(stand, 10);
  CHECK(heard(stand, "caliper-frame") == 2);
  show(stand, 101);
  CHECK(heard(stand, "caliper-frame") == 2 && heard(stand, ",1.01,mm*") == 1);
}

/* A frame, its quiet and the next frame handed in with no tick between, as after a slow main loop. */
static void test_two_in_one_drain(void) {
  struct stand *stand = stand_of(&facts_here, 0);
  wait_ms(stand, 10);
  struct wave wave = wave_of(100, 370, 740, 5000);
  for (unsigned round = 0; round < 2; round++) {
    for (unsigned n = 0; n < wave.count; n++) {
      stand->now = (stamp_t)(stand->now + wave.gap[n]);
      unit_caliper_edge(&stand->unit, stand->now, wave.data[n]);
    }
    hear(stand);
  }
  wait_ms(stand, 10);
  CHECK(heard(stand, ",1.00,mm*") == 2);
}

static void test_overrun(void) {
  struct stand *stand = stand_of(&facts_here, 0);
  wait_ms(stand, 10);
  forget(stand);
  for (unsigned n = 0; n < 500; n++) {
    unit_feed_edge(&stand->unit, stand->now, n & 1u ? 0 : FEED_A | FEED_B);
    wait_ms(stand, 5);
  }
  CHECK(heard(stand, "feed-overrun") == 1 && heard(stand, "FE,") == 0);
  wait_ms(stand, 240);
  CHECK(heard(stand, "FE,") == 0);
  wait_ms(stand, 10);
  CHECK(heard(stand, "FE,") == 1);
  forget(stand);
  unit_feed_lost(&stand->unit, 0);
  wait_ms(stand, 1);
  CHECK(heard(stand, "feed-overrun") == 1 && heard(stand, "FE,") == 0);
}

/* A step counter judges a burst while nothing but time passes. */
static void test_overrun_by_time(void) {
  struct unit_facts facts = facts_here;
  facts.feed.kind = FEED_STEP;
  facts.feed.settle = STAMPS(3000);
  struct stand *stand = stand_of(&facts, 0);
  wait_ms(stand, 10);
  unit_feed_edge(&stand->unit, stand->now, FEED_A);
  wait_ms(stand, 2);
  unit_feed_edge(&stand->unit, stand->now, 0);
  wait_ms(stand, 2);
  CHECK(heard(stand, "feed-overrun") == 0);
  wait_ms(stand, 1);
  CHECK(heard(stand, "feed-overrun") == 1);
}

/* A burst that ends by an edge and not by a tick is judged all the same. */
static void test_overrun_by_edge(void) {
  struct unit_facts facts = facts_here;
  facts.feed.kind = FEED_STEP;
  facts.feed.settle = STAMPS(3000);
  struct stand *stand = stand_of(&facts, 0);
  wait_ms(stand, 10);
  unit_feed_edge(&stand->unit, stand->now, FEED_A | FEED_B);
  stand->now = (stamp_t)(stand->now + STAMPS(4000));
  unit_feed_edge(&stand->unit, stand->now, FEED_B);
  hear(stand);
  CHECK(heard(stand, ",1*") == 1);
}

static void test_feed_told(void) {
  struct stand *stand = stand_of(&facts_here, 0);
  wait_ms(stand, 10);
  forget(stand);
  static const uint8_t turn[] = {FEED_A, FEED_A | FEED_B, FEED_B, 0};
  for (unsigned n = 0; n < 8; n++) {
    unit_feed_edge(&stand->unit, stand->now, turn[n % 4]);
    wait_ms(stand, 4);
  }
  CHECK(heard(stand, "FE,") == 2 && heard(stand, ",1*") == 1 && heard(stand, ",2*") == 1);
}

static void test_buttons_told(void) {
  struct stand *stand = stand_of(&facts_here, 0);
  stand->pressed = 2;
  wait_ms(stand, 14);
  CHECK(heard(stand, "PB,") == 0);
  wait_ms(stand, 1);
  CHECK(heard(stand, ",15,2,down*") == 1);
  stand->pressed = 0;
  wait_ms(stand, 20);
  CHECK(heard(stand, ",30,2,up*") == 1 && heard(stand, "PB,") == 2);
}

static void test_question(void) {
  struct stand *stand = stand_of(&facts_here, 0);
  forget(stand);
  for (const char *byte = "??\n?\r\nx\n"; *byte; byte++) {
    unit_byte(&stand->unit, (uint8_t)*byte);
    hear(stand);
  }
  CHECK(heard(stand, "HI,") == 1);
}

/* The milliseconds wrap after 49 days and the stamps every 262 ms: nothing is lost, nothing comes twice. */
static void test_wraps(void) {
  struct stand *stand = stand_of(&facts_here, 0);
  wait_ms(stand, 10);
  forget(stand);
  stand->unit.ms = UINT32_MAX - 1500u;
  for (unsigned n = 0; n < 30; n++) {
    show(stand, n);
    wait_ms(stand, 90);
  }
  CHECK(heard(stand, "DI,") == 30 && heard(stand, "FA,") == 0 && heard(stand, "FE,") == 3);
  CHECK(stand->unit.ms < 1600 && heard(stand, ",4294966") > 0);
}

/* Without a caliper there is no silence to report; without a feed no total. */
static void test_parts(void) {
  struct unit_facts facts = facts_here;
  facts.has_caliper = false;
  facts.has_feed = false;
  struct stand *stand = stand_of(&facts, 0);
  wait_ms(stand, 5000);
  CHECK(heard(stand, "FA,") == 0 && heard(stand, "FE,") == 0 && heard(stand, "HI,") == 1);
  unit_feed_edge(&stand->unit, stand->now, FEED_A);
  wait_ms(stand, 2000);
  CHECK(heard(stand, "FE,") == 0);
}

void test_unit(void) {
  test_start();
  test_silence();
  test_damaged();
  test_two_in_one_drain();
  test_overrun();
  test_overrun_by_time();
  test_overrun_by_edge();
  test_feed_told();
  test_buttons_told();
  test_question();
  test_wraps();
  test_parts();
}

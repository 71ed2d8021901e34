/* The whole board but for its hardware: silence, overrun, restart, questions and the wrap of the milliseconds. */
#include "check.h"
#include "device.h"
#include "wave.h"

#include <stdlib.h>
#include <string.h>

static const struct device_facts facts_here = {
    .identity = {"0.2.0", "bench-09", "caliper+feed+button"},
    .has_caliper = true,
    .has_feed = true,
    .caliper = {.limits = {.sample_rising = true,
                           .edge_min = TICKS(180),
                           .gap_min = TICKS(550),
                           .gap_max = TICKS(1000),
                           .quiet = TICKS(4000),
                           .group = 4,
                           .even_tenths = 13,
                           .zero_bits = 0x600000,
                           .longest_mm = 32000,
                           .longest_inch = 25196},
                .silent_ms = 1000},
    .feed = {.kind = FEED_QUADRATURE,
             .edges_per_detent = 4,
             .fastest = TICKS(100),
             .bounce_max = TICKS(5000),
             .spike_max = TICKS(60)},
    .feed_calm_ms = 250,
    .button_settle_ms = 15,
};

/* A device with its own time; every line it says is kept until it is asked for. */
struct stand {
  struct device device;
  tick_t now;
  uint8_t pressed;
  char said[4096];
};

static void hear(struct stand *stand) {
  struct line line;
  while (device_line(&stand->device, &line)) {
    size_t used = strlen(stand->said);
    if (!CHECK(used + line.length < sizeof stand->said)) abort();
    memcpy(stand->said + used, line.text, line.length);
    stand->said[used + line.length] = 0;
  }
}

static void wait_ms(struct stand *stand, unsigned ms) {
  for (; ms > 0; ms--) {
    stand->now = (tick_t)(stand->now + TICKS(1000));
    device_tick(&stand->device, stand->now, 1, stand->pressed);
    hear(stand);
  }
}

static struct stand *stand_of(const struct device_facts *facts, uint16_t faults) {
  static struct stand stand;
  stand = (struct stand){.now = 65000};
  struct device_start found = {.faults = faults, .now = stand.now};
  device_start(&stand.device, facts, &found);
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
    stand->now = (tick_t)(stand->now + wave.gap[n]);
    device_caliper_edge(&stand->device, stand->now, true, DATA(wave.data[n]));
  }
  wait_ms(stand, 10);
}

static void test_start(void) {
  struct stand *stand = stand_of(&facts_here, 0);
  CHECK(strncmp(stand->said, "HI,0,0,1,0.2.0,", 15) == 0);
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

/* The first dropped frame is reported at once, the rest at most twice a second. */
static void test_damaged(void) {
  struct stand *stand = stand_of(&facts_here, 0);
  wait_ms(stand, 10);
  show(stand, 100);
  device_caliper_edge(&stand->device, stand->now, true, DATA_HIGH);
  wait_ms(stand, 10);
  CHECK(heard(stand, "caliper-frame") == 1 && heard(stand, "DI,") == 1);
  wait_ms(stand, 500);
  device_caliper_lost(&stand->device, stand->now);
  wait_ms(stand, 10);
  CHECK(heard(stand, "caliper-frame") == 2);
  show(stand, 101);
  CHECK(heard(stand, "caliper-frame") == 2 && heard(stand, ",1.01,mm*") == 1);
  wait_ms(stand, 600);
  forget(stand);
  for (unsigned n = 0; n < 190; n++) {
    device_caliper_edge(&stand->device, stand->now, true, DATA_HIGH);
    wait_ms(stand, 10);
  }
  CHECK(heard(stand, "caliper-frame") == 4);
}

/* No good frame for a second: silent where the lead is still, noise where edges or spikes keep coming. */
static void test_noise(void) {
  struct stand *stand = stand_of(&facts_here, 0);
  for (unsigned ms = 0; ms < 999; ms++) {
    device_caliper_spikes(&stand->device, 8);
    wait_ms(stand, 1);
  }
  CHECK(heard(stand, "caliper-") == 0);
  for (unsigned ms = 0; ms < 20000; ms++) {
    device_caliper_spikes(&stand->device, 8);
    wait_ms(stand, 1);
  }
  CHECK(heard(stand, "caliper-noise") == 4 && heard(stand, "caliper-silent") == 0);
  forget(stand);
  wait_ms(stand, 3000);
  CHECK(heard(stand, "caliper-silent") == 1);
  forget(stand);
  show(stand, 5234);
  CHECK(heard(stand, "caliper-back") == 1 && heard(stand, "52.34") == 1);
  forget(stand);
  for (unsigned ms = 0; ms < 900; ms++) {
    device_caliper_edge(&stand->device, stand->now, ms % 2, DATA_HIGH);
    wait_ms(stand, 1);
  }
  wait_ms(stand, 10);
  show(stand, 5235);
  CHECK(heard(stand, "caliper-noise") == 0 && heard(stand, "52.35") == 1); /* noisy, and yet a frame came through */
  wait_ms(stand, 1);
  device_caliper_lost(&stand->device, stand->now);
  wait_ms(stand, 1000);
  CHECK(heard(stand, "caliper-noise") == 1 && heard(stand, "caliper-silent") == 0); /* too many edges to keep */
  wait_ms(stand, 10);
  show(stand, 5236);
  wait_ms(stand, 1);
  for (unsigned n = 0; n < 19; n++) device_caliper_spikes(&stand->device, 1);
  wait_ms(stand, 1000);
  CHECK(heard(stand, "caliper-silent") == 1); /* a few spikes from a switch are no noise */
}

/* Upside down, too long, or with a data lead that never moves: no reading ever, and the reason is told. */
static void test_impossible_data(void) {
  static const uint32_t frames[] = {0xFFFFFF, 0xFFFFFF ^ 5234u, 0, 40000, 0x600000};
  for (unsigned n = 0; n < sizeof frames / sizeof frames[0]; n++) {
    struct stand *stand = stand_of(&facts_here, 0);
    wait_ms(stand, 10);
    for (unsigned k = 0; k < 80; k++) {
      show(stand, frames[n]);
      wait_ms(stand, 90);
    }
    CHECK(heard(stand, "DI,") == 0 && heard(stand, "caliper-data") == 2);
    CHECK(heard(stand, "caliper-silent") == 0 && heard(stand, "caliper-noise") == 0);
    CHECK(heard(stand, "caliper-frame") <= 20);
    forget(stand);
    show(stand, 5234);
    CHECK(heard(stand, "caliper-back") == 1 && heard(stand, ",52.34,mm*") == 1);
  }
}

/* A caliper that was unplugged may come back with its data lead broken. */
static void test_zero_after_silence(void) {
  struct stand *stand = stand_of(&facts_here, 0);
  wait_ms(stand, 10);
  show(stand, 5234);
  show(stand, 0);
  CHECK(heard(stand, ",0.00,mm*") == 1);
  wait_ms(stand, 1100);
  forget(stand);
  show(stand, 0);
  CHECK(heard(stand, "DI,") == 0);
  show(stand, 1);
  show(stand, 0);
  CHECK(heard(stand, ",0.01,mm*") == 1 && heard(stand, ",0.00,mm*") == 1);
}

/* A frame, its quiet and the next frame handed in with no tick between, as after a slow main loop. */
static void test_two_in_one_drain(void) {
  struct stand *stand = stand_of(&facts_here, 0);
  wait_ms(stand, 10);
  struct wave wave = wave_of(100, 370, 740, 5000);
  for (unsigned round = 0; round < 2; round++) {
    for (unsigned n = 0; n < wave.count; n++) {
      stand->now = (tick_t)(stand->now + wave.gap[n]);
      device_caliper_edge(&stand->device, stand->now, true, DATA(wave.data[n]));
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
    device_feed_edge(&stand->device, stand->now, n & 1u ? 0 : FEED_A | FEED_B);
    wait_ms(stand, 5);
  }
  CHECK(heard(stand, "feed-overrun") == 1 && heard(stand, "FE,") == 0);
  wait_ms(stand, 240);
  CHECK(heard(stand, "FE,") == 0);
  wait_ms(stand, 10);
  CHECK(heard(stand, "FE,") == 1);
  forget(stand);
  device_feed_lost(&stand->device, 0);
  wait_ms(stand, 1);
  CHECK(heard(stand, "feed-overrun") == 1 && heard(stand, "FE,") == 0);
}

/* Sensors that cannot be counted: the reason, an overrun, and no total any more. */
static void test_windows_reported(void) {
  static const uint8_t apart[4] = {FEED_A, 0, FEED_B, 0};
  struct stand *stand = stand_of(&facts_here, 0);
  wait_ms(stand, 10);
  forget(stand);
  for (unsigned n = 0; n < 100; n++) {
    device_feed_edge(&stand->device, stand->now, apart[n % 4u]);
    wait_ms(stand, 5);
  }
  CHECK(heard(stand, "feed-windows") == 1 && heard(stand, "feed-overrun") == 1);
  forget(stand);
  wait_ms(stand, 5000);
  CHECK(heard(stand, "FE,") == 0);
}

/* A step counter judges a burst while nothing but time passes. */
static void test_overrun_by_time(void) {
  struct device_facts facts = facts_here;
  facts.feed.kind = FEED_STEP;
  facts.feed.settle = TICKS(3000);
  struct stand *stand = stand_of(&facts, 0);
  wait_ms(stand, 10);
  device_feed_edge(&stand->device, stand->now, FEED_A);
  wait_ms(stand, 2);
  device_feed_edge(&stand->device, stand->now, 0);
  wait_ms(stand, 2);
  CHECK(heard(stand, "feed-overrun") == 0);
  wait_ms(stand, 1);
  CHECK(heard(stand, "feed-overrun") == 1);
}

/* A burst that ends by an edge and not by a tick is judged all the same. */
static void test_overrun_by_edge(void) {
  struct device_facts facts = facts_here;
  facts.feed.kind = FEED_STEP;
  facts.feed.settle = TICKS(3000);
  struct stand *stand = stand_of(&facts, 0);
  wait_ms(stand, 10);
  device_feed_edge(&stand->device, stand->now, FEED_A | FEED_B);
  stand->now = (tick_t)(stand->now + TICKS(4000));
  device_feed_edge(&stand->device, stand->now, FEED_B);
  hear(stand);
  CHECK(heard(stand, ",1*") == 1);
}

static void test_feed_sent(void) {
  struct stand *stand = stand_of(&facts_here, 0);
  wait_ms(stand, 10);
  forget(stand);
  static const uint8_t turn[] = {FEED_A, FEED_A | FEED_B, FEED_B, 0};
  for (unsigned n = 0; n < 8; n++) {
    device_feed_edge(&stand->device, stand->now, turn[n % 4]);
    wait_ms(stand, 4);
  }
  CHECK(heard(stand, "FE,") == 2 && heard(stand, ",1*") == 1 && heard(stand, ",2*") == 1);
}

static void test_buttons_sent(void) {
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

/* A foot switch that is jammed down keeps nothing at each restart. */
static void test_held_at_start(void) {
  static struct stand stand;
  stand = (struct stand){.now = 65000, .pressed = 1};
  struct device_start found = {.now = stand.now, .pressed = 1};
  device_start(&stand.device, &facts_here, &found);
  wait_ms(&stand, 500);
  CHECK(heard(&stand, "PB,") == 0);
  stand.pressed = 0;
  wait_ms(&stand, 50);
  stand.pressed = 1;
  wait_ms(&stand, 50);
  CHECK(heard(&stand, "PB,") == 1 && heard(&stand, ",1,down*") == 1);
}

static void test_question(void) {
  struct stand *stand = stand_of(&facts_here, 0);
  forget(stand);
  for (const char *byte = "??\n?\r\nx\n"; *byte; byte++) {
    device_byte(&stand->device, (uint8_t)*byte);
    hear(stand);
  }
  CHECK(heard(stand, "HI,") == 1);
}

/* The milliseconds wrap after 49 days and the stamps every 262 ms: nothing is lost, nothing comes twice. */
static void test_wraps(void) {
  struct stand *stand = stand_of(&facts_here, 0);
  wait_ms(stand, 10);
  forget(stand);
  stand->device.ms = UINT32_MAX - 1500u;
  for (unsigned n = 0; n < 30; n++) {
    show(stand, n + 1u);
    wait_ms(stand, 90);
  }
  CHECK(heard(stand, "DI,") == 30 && heard(stand, "FA,") == 0 && heard(stand, "FE,") == 3);
  CHECK(stand->device.ms < 1600 && heard(stand, ",4294966") > 0);
}

/* Without a caliper there is no silence to report; without a feed no total. */
static void test_parts(void) {
  struct device_facts facts = facts_here;
  facts.has_caliper = false;
  facts.has_feed = false;
  struct stand *stand = stand_of(&facts, 0);
  wait_ms(stand, 5000);
  CHECK(heard(stand, "FA,") == 0 && heard(stand, "FE,") == 0 && heard(stand, "HI,") == 1);
  device_feed_edge(&stand->device, stand->now, FEED_A);
  wait_ms(stand, 2000);
  CHECK(heard(stand, "FE,") == 0);
}

void test_device(void) {
  test_start();
  test_silence();
  test_damaged();
  test_noise();
  test_impossible_data();
  test_zero_after_silence();
  test_two_in_one_drain();
  test_overrun();
  test_windows_reported();
  test_overrun_by_time();
  test_overrun_by_edge();
  test_feed_sent();
  test_buttons_sent();
  test_held_at_start();
  test_question();
  test_wraps();
  test_parts();
}

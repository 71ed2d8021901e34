/* Joins caliper, feed, buttons and outbox, and keeps the milliseconds since start. */
#include "device.h"

void device_start(struct device *device, const struct device_facts *facts, const struct device_start *start) {
  *device = (struct device){.facts = facts};
  caliper_follow(&device->caliper, &facts->caliper, start->now);
  feed_start(&device->feed, &facts->feed, start->feed_lines);
  buttons_start(&device->buttons, start->pressed);
  outbox_start(&device->outbox, &facts->identity, start->faults);
  device->outbox.feed_valid = facts->has_feed;
}

static void poll_caliper(struct device *device, tick_t now) {
  struct outbox *outbox = &device->outbox;
  struct reading reading;
  if (!caliper_poll(&device->caliper, now, &reading, &outbox->faults)) return;
  outbox->reading = reading;
  outbox->reading_waits = true;
}

void device_caliper_edge(struct device *device, tick_t at, bool rising, enum data_level data) {
  poll_caliper(device, at);
  caliper_edge(&device->caliper, at, rising, data);
}

void device_caliper_spikes(struct device *device, uint8_t count) { caliper_spikes(&device->caliper, count); }

void device_caliper_lost(struct device *device, tick_t now) { caliper_lost_edges(&device->caliper, now); }

/* One fault for an overrun however long it lasts; no total is sent until the feed has been calm again, and none at all
   from sensors that cannot be counted. */
static void note_feed(struct device *device, enum feed_result result) {
  struct outbox *outbox = &device->outbox;
  if (result != FEED_FINE) {
    if (device->calm_in == 0) outbox->faults |= FAULT_FEED_OVERRUN;
    device->calm_in = device->facts->feed_calm_ms;
  }
  if (result == FEED_WINDOWS && !device->feed_unusable) outbox->faults |= FAULT_FEED_WINDOWS | FAULT_FEED_OVERRUN;
  if (result == FEED_WINDOWS) device->feed_unusable = true;
  outbox->feed = device->feed.total;
  outbox->feed_valid = device->facts->has_feed && device->calm_in == 0 && !device->feed_unusable;
}

void device_feed_edge(struct device *device, tick_t at, uint8_t lines) {
  note_feed(device, feed_poll(&device->feed, at));
  note_feed(device, feed_edge(&device->feed, at, lines));
}

void device_feed_lost(struct device *device, uint8_t lines) { note_feed(device, feed_lost(&device->feed, lines)); }

void device_byte(struct device *device, uint8_t byte) {
  if (question_byte(&device->question, byte)) device->outbox.hello = true;
}

static void age_feed(struct device *device, uint8_t elapsed_ms) {
  device->calm_in = device->calm_in > elapsed_ms ? (uint16_t)(device->calm_in - elapsed_ms) : 0;
  note_feed(device, FEED_FINE);
}

void device_tick(struct device *device, tick_t now, uint8_t elapsed_ms, uint8_t pressed) {
  device->ms += elapsed_ms;
  poll_caliper(device, now);
  note_feed(device, feed_poll(&device->feed, now));
  if (elapsed_ms == 0) return; /* woken by an edge: the rest goes by milliseconds */
  if (device->facts->has_caliper) caliper_age(&device->caliper, elapsed_ms, &device->outbox.faults);
  age_feed(device, elapsed_ms);
  buttons_sample(&device->buttons, pressed, elapsed_ms, device->facts->button_settle_ms);
  device->outbox.buttons = device->buttons.stable;
  outbox_tick(&device->outbox, elapsed_ms);
}

bool device_line(struct device *device, struct line *line) { return outbox_next(&device->outbox, device->ms, line); }

/* Joins decoder, counter, buttons and speech, and keeps the milliseconds since start. */
#include "unit.h"

void unit_start(struct unit *unit, const struct unit_facts *facts, uint8_t faults, stamp_t now, uint8_t feed_lines) {
  *unit = (struct unit){.facts = facts, .silent_in = facts->caliper_silent_ms};
  frame_start(&unit->frame, &facts->caliper, now);
  feed_start(&unit->feed, &facts->feed, feed_lines);
  buttons_start(&unit->buttons);
  talk_start(&unit->talk, &facts->who, faults);
  unit->talk.feed_speaks = facts->has_feed;
}

static void poll_caliper(struct unit *unit, stamp_t now) {
  struct talk *talk = &unit->talk;
  struct reading reading;
  enum frame_result result = frame_poll(&unit->frame, now, &reading);
  if (result == FRAME_DAMAGED) talk->faults |= FAULT_CALIPER_FRAME;
  if (result != FRAME_READING) return;
  if (unit->silent_in == 0) talk->faults |= FAULT_CALIPER_BACK;
  unit->silent_in = unit->facts->caliper_silent_ms;
  talk->reading = reading;
  talk->reading_waits = true;
}

void unit_caliper_edge(struct unit *unit, stamp_t at, bool data) {
  poll_caliper(unit, at);
  frame_edge(&unit->frame, at, data);
}

void unit_caliper_lost(struct unit *unit, stamp_t now) { frame_lost(&unit->frame, now); }

/* One fault for an overrun however long it lasts; no total is told until the feed has been calm again. */
static void note_feed(struct unit *unit, enum feed_result result) {
  if (result == FEED_OVERRUN) {
    if (unit->calm_in == 0) unit->talk.faults |= FAULT_FEED_OVERRUN;
    unit->calm_in = unit->facts->feed_calm_ms;
  }
  unit->talk.feed = unit->feed.total;
  unit->talk.feed_speaks = unit->facts->has_feed && unit->calm_in == 0;
}

void unit_feed_edge(struct unit *unit, stamp_t at, uint8_t lines) {
  note_feed(unit, feed_poll(&unit->feed, at));
  note_feed(unit, feed_edge(&unit->feed, at, lines));
}

void unit_feed_lost(struct unit *unit, uint8_t lines) { note_feed(unit, feed_lost(&unit->feed, lines)); }

void unit_byte(struct unit *unit, uint8_t byte) {
  if (ask_byte(&unit->ask, byte)) unit->talk.hello = true;
}

static uint16_t less(uint16_t ms, uint8_t elapsed) { return ms > elapsed ? (uint16_t)(ms - elapsed) : 0; }

static void age_caliper(struct unit *unit, uint8_t elapsed_ms) {
  if (!unit->facts->has_caliper || unit->silent_in == 0) return;
  unit->silent_in = less(unit->silent_in, elapsed_ms);
  if (unit->silent_in == 0) unit->talk.faults |= FAULT_CALIPER_SILENT;
}

static void age_feed(struct unit *unit, uint8_t elapsed_ms) {
  unit->calm_in = less(unit->calm_in, elapsed_ms);
  note_feed(unit, FEED_FINE);
}

void unit_tick(struct unit *unit, stamp_t now, uint8_t elapsed_ms, uint8_t pressed) {
  unit->ms += elapsed_ms;
  poll_caliper(unit, now);
  note_feed(unit, feed_poll(&unit->feed, now));
  if (elapsed_ms == 0) return; /* woken by an edge: the rest goes by milliseconds */
  age_caliper(unit, elapsed_ms);
  age_feed(unit, elapsed_ms);
  buttons_sample(&unit->buttons, pressed, elapsed_ms, unit->facts->button_settle_ms);
  unit->talk.buttons = unit->buttons.stable;
  talk_tick(&unit->talk, elapsed_ms);
}

bool unit_line(struct unit *unit, struct line *line) { return talk_next(&unit->talk, unit->ms, line); }

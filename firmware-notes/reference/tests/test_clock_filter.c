/* The filter of the caliper's leads: which edges are believed, and what the data lead was at them. */
#include "check.h"
#include "clock_filter.h"

#include <string.h>

#define VOTES 7u

/* Looks given as text: the clock's level at each, and the data lead's; returns at which look the series ended. */
static unsigned look_through(struct clock_filter *filter, const char *clock, const char *data,
                             enum look_result *result) {
  unsigned n = 0;
  clock_filter_begin(filter, 1234);
  do {
    *result = clock_filter_look(filter, clock[n] == '1', data[n] == '1', VOTES);
    n++;
  } while (*result == LOOK_AGAIN && clock[n] && data[n]);
  return n;
}

static void test_series(void) {
  static const struct {
    const char *clock, *data;
    unsigned looks;
    enum look_result result;
    enum data_level level;
  } table[] = {
      {"1111111", "1111111", 7, LOOK_EDGE, DATA_HIGH},
      {"1111111", "0000000", 7, LOOK_EDGE, DATA_LOW},
      {"1111111", "1110111", 7, LOOK_EDGE, DATA_HIGH},
      {"1111111", "0000100", 7, LOOK_EDGE, DATA_LOW},
      {"1111111", "0010100", 7, LOOK_EDGE, DATA_UNSTEADY},
      {"1111111", "1010111", 7, LOOK_EDGE, DATA_UNSTEADY},
      {"111011111", "111111111", 9, LOOK_EDGE, DATA_HIGH},
      {"0", "1", 1, LOOK_NOTHING, DATA_LOW},
      {"10", "11", 2, LOOK_NOTHING, DATA_HIGH},
      {"111000", "111111", 6, LOOK_NOTHING, DATA_HIGH},
      {"1101101101101101101101101", "1111111111111111111111111", 17, LOOK_EDGE, DATA_HIGH},
      {"1110110101010101010101010", "1111111111111111111111111", 20, LOOK_NOTHING, DATA_HIGH},
  };
  for (unsigned n = 0; n < sizeof table / sizeof table[0]; n++) {
    for (int inverted = 0; inverted < 2; inverted++) {
      char clock[32];
      strcpy(clock, table[n].clock);
      for (char *level = clock; inverted && *level; level++) *level = *level == '1' ? '0' : '1';
      struct clock_filter filter = {.level = inverted};
      enum look_result result;
      CHECK_ROW(look_through(&filter, clock, table[n].data, &result) == table[n].looks, table[n].clock);
      CHECK_ROW(result == table[n].result, table[n].clock);
      CHECK_ROW(filter.level == ((result == LOOK_EDGE) != inverted), table[n].clock);
      if (result == LOOK_EDGE) CHECK_ROW(clock_filter_data(&filter) == table[n].level, table[n].data);
      CHECK(filter.at == 1234);
    }
  }
}

void test_clock_filter(void) { test_series(); }

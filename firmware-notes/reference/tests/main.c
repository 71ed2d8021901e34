/* Runs the host tests until one fails; fails as well when a test checked nothing. `quick` shortens the random ones. */
#include "check.h"

#include <string.h>

unsigned long checks_made;
unsigned long checks_failed;

bool check_note(bool holds, const char *what, const char *file, int line, const char *detail) {
  checks_made++;
  if (holds) return true;
  checks_failed++;
  if (checks_failed <= 20) printf("%s:%d: not so: %s %s\n", file, line, what, detail);
  return false;
}

int main(int argc, char **argv) {
  fuzz_quickly = argc > 1 && strcmp(argv[1], "quick") == 0;
  static const struct {
    const char *name;
    void (*run)(void);
  } tests[] = {{"crc", test_crc},           {"edges", test_edge_queue},   {"line", test_line}, {"clock filter", test_clock_filter}, {"frame", test_frame},
               {"feed", test_feed},         {"buttons", test_buttons}, {"outbox", test_outbox}, {"device", test_device},
               {"golden lines", test_golden}, {"settings", test_settings}, {"fuzz", test_fuzz}};
  for (unsigned n = 0; n < sizeof tests / sizeof tests[0] && checks_failed == 0; n++) {
    unsigned long made = checks_made;
    tests[n].run();
    printf("%-12s %8lu checks\n", tests[n].name, checks_made - made);
    CHECK_ROW(checks_made > made, tests[n].name);
  }
  printf("%lu checks, %lu failed\n", checks_made, checks_failed);
  return checks_failed == 0 ? 0 : 1;
}

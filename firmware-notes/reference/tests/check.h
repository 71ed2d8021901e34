/* Counts what the host tests checked, and says where a check failed. */
#ifndef CHECK_H
#define CHECK_H

#include <stdbool.h>
#include <stdio.h>

extern unsigned long checks_made;
extern unsigned long checks_failed;

bool check_note(bool holds, const char *what, const char *file, int line, const char *detail);

/* Checks a condition; CHECK_ROW also names the row of a table. */
#define CHECK(holds) check_note((holds), #holds, __FILE__, __LINE__, "")
#define CHECK_ROW(holds, row) check_note((holds), #holds, __FILE__, __LINE__, (row))

/* A tenth of the random edges: for the mutants, which run the tests a hundred times. */
extern bool fuzz_quickly;

void test_crc(void);
void test_edge_queue(void);
void test_line(void);
void test_clock_filter(void);
void test_frame(void);
void test_feed(void);
void test_buttons(void);
void test_outbox(void);
void test_device(void);
void test_golden(void);
void test_settings(void);
void test_fuzz(void);

#endif

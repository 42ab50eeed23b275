/* SPDX-License-Identifier: GPL-3.0-or-later */
/* options.h: what can be written on the command line. One row an option, one row a command; the
 * parser and the help read the same rows. */
#ifndef CLI_OPTIONS_H
#define CLI_OPTIONS_H

#include <stdbool.h>
#include <stddef.h>

/* What the program says to the shell. */
enum {
	EXIT_FINE = 0,
	EXIT_FAILS = 1, /* `check` found something that does not hold */
	EXIT_USAGE = 2,
	EXIT_INPUT = 3,
	EXIT_FILES = 4
};

enum { MAX_LOADS = 64, ANY_NUMBER = 1000000000 };

typedef enum {
	FORMAT_UNSAID,
	FORMAT_TEXT,
	FORMAT_JSON,
	FORMAT_HTML,
	FORMAT_PDF,
	FORMAT_CSV, /* and the next: a folder of files */
	FORMAT_SVG
} output_format;

typedef struct {
	char **arguments;
	size_t n_arguments;
	int format; /* output_format */
	int units;  /* rig_units */
	int reader; /* rig_reader */
	const char *output;
	const char *date;
	const char *inspector;
	int paper; /* rig_paper */
	const char *place;
	int month; /* 0..11; -1 if not given */
	long days; /* 0 if not given */
	const char *habit;
	const char *weather;
	long trips;       /* 0 if not given */
	long seed;        /* -1 if not given */
	long wanted;      /* percent; 0 if not given */
	long drive_every; /* 0 if not given */
	bool drawn;
	long threads; /* 0 if not given */
	const char *name;
	long cord;
	const char *loads[MAX_LOADS];
	size_t n_loads;
	const char *panel;
	const char *bank;
	bool ask;
	const char *table;
	const char *reads[MAX_LOADS];
	size_t n_reads;
	const char *meter;
	bool accept;
	const char *amps; /* a run of wire, as typed */
	const char *run;
	const char *drop;
	const char *volts;
	const char *power_factor;
	const char *insulation;
	const char *terminal;
	const char *ambient;
	const char *awg;
	const char *fuse;
	const char *interrupt;
	const char *fuse_distance;
	long bundle; /* 0 if not given */
	bool continuous;
	bool next_size;
	int copper;          /* rig_copper */
	const char *let_run; /* id or name of a load */
	const char *supply;
	int day;               /* rig_shed_weather */
	const char *questions; /* of batch, parted by commas */
	int detail;            /* of batch: 1 for all findings */
	const char *parts;     /* an upgrade, as typed */
	const char *months;
	const char *keep;
	const char *replace;
	const char *roof;
	const char *obstacles[MAX_LOADS];
	size_t n_obstacles;
	const char *battery_room;
	const char *gap;
	const char *price_max;
	const char *weight_max;
	const char *area_max;
	const char *runs;
	long most_panels, most_batteries; /* -1 if not given */
	const char *compare;
	long write_option; /* 0 if not given */
	bool help;
	bool version;
} cli_options;

/* Bits: which options a command takes. --help and --version go with all. */
enum {
	TAKES_FORMAT = 1,
	TAKES_OUTPUT = 2,
	TAKES_SITE = 4,
	TAKES_STAY = 8,
	TAKES_MONTH = 16,
	TAKES_WEATHER = 32,
	TAKES_NEW = 64,
	TAKES_HABIT = 128,
	TAKES_DAY = 256,
	TAKES_LOAD = 512,
	TAKES_READER = 1 << 20,
	TAKES_READINGS = 1 << 16,
	TAKES_WIRE = 1 << 17,
	TAKES_BATCH = 1 << 18,
	TAKES_SIZE = 1 << 19
};

typedef struct {
	const char *name;
	const char *arguments; /* as shown in the usage line */
	const char *summary;   /* one line for the overview */
	const char *about;     /* paragraphs for the command's own help, lines of at most 80 */
	const char *example;   /* lines that can be typed; tests run them */
	size_t least, most;    /* number of arguments */
	unsigned takes;
	int (*run)(const cli_options *options);
} cli_command;

/* Reads the words after the command's name; their array is set in order, arguments first. false: a
 * sentence about it went to standard error. */
bool options_read(const cli_command *command, int n, char **words, cli_options *options);

/* Prints the options that a command takes, one a line, to standard output. */
void options_help(unsigned takes);

/* An option as it is told to people and shells. */
typedef struct {
	const char *name;
	char letter;       /* 0 if it has none */
	const char *value; /* NULL for a flag */
	const char *help;
	const char *const *choices; /* ends with NULL; NULL if the value is none of a few words */
} cli_option_words;

/* The next option that a command takes, after number i; 0 starts. Gives its number, or 0 after the
 * last. */
size_t option_after(size_t i, unsigned takes, cli_option_words *option);

#endif

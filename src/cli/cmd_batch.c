/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cmd_batch.c: many coaches, one line of JSON each. */
#include <errno.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "base/suggest.h"
#include "cli/batch_window.h"
#include "cli/commands.h"
#include "cli/session.h"

/* As a shell counts a program that SIGINT ended. */
enum { EXIT_INTERRUPTED = 130, MAX_WORD = 40 };

static const char *const USUAL = "shore,solar";

static volatile sig_atomic_t interrupted;

static void note_signal(int number)
{
	(void)number;
	interrupted = 1;
}

/* The first signal lets the lines in hand be written whole; the second ends the program. A pipe
 * that nobody reads is told by write. */
static void heed_signals(void)
{
	struct sigaction note = {.sa_handler = note_signal, .sa_flags = (int)SA_RESETHAND};
	struct sigaction pass = {.sa_handler = SIG_IGN};
	sigemptyset(&note.sa_mask);
	sigemptyset(&pass.sa_mask);
	sigaction(SIGINT, &note, NULL);
	sigaction(SIGTERM, &note, NULL);
	sigaction(SIGPIPE, &pass, NULL);
}

static const char *question_at(const void *context, size_t i)
{
	(void)context;
	return rig_question_at(i)->name;
}

static int complain_question(const char *word)
{
	const char *near = rig_suggest(word, rig_n_questions(), question_at, NULL);
	fprintf(stderr, "rigbudget batch: --ask: there is no such question: %s\n", word);
	if (near != NULL) {
		fprintf(stderr, "    to mend: did you mean %s?\n", near);
		return EXIT_USAGE;
	}
	fputs("    allowed: ", stderr);
	for (size_t i = 0; i < rig_n_questions(); i++)
		fprintf(stderr, "%s%s", i > 0 ? ", " : "", rig_question_at(i)->name);
	fputc('\n', stderr);
	return EXIT_USAGE;
}

/* Adds a question by its name; one that is there already is a key twice. */
static int add_question(batch_wish *wish, const char *word)
{
	for (size_t i = 0; i < wish->n_questions; i++) {
		if (strcmp(wish->questions[i], word) == 0) {
			fprintf(stderr, "rigbudget batch: --ask names a question twice: %s\n",
				word);
			return EXIT_USAGE;
		}
	}
	for (size_t i = 0; i < rig_n_questions(); i++) {
		if (strcmp(rig_question_at(i)->name, word) != 0)
			continue;
		wish->questions[wish->n_questions++] = rig_question_at(i)->name;
		return EXIT_FINE;
	}
	return complain_question(word);
}

static int read_questions(const char *words, batch_wish *wish)
{
	int status = EXIT_FINE;
	while (status == EXIT_FINE) {
		char word[MAX_WORD] = "";
		const size_t length = strcspn(words, ",");
		snprintf(word, sizeof word, "%.*s",
			(int)(length < MAX_WORD ? length : MAX_WORD - 1), words);
		status = wish->n_questions < BATCH_MAX_QUESTIONS ? add_question(wish, word)
								 : complain_question(word);
		if (words[length] == '\0')
			break;
		words += length + 1;
	}
	return status;
}

static void tell(void *context, const batch_count *count)
{
	progress_count(context, count->n_lines, count->n_failed);
}

static int exit_for_count(const batch_count *count, int read_fault)
{
	if (count->no_memory || count->no_lock)
		return exit_for(RIG_NO_MEMORY);
	/* whoever stops reading wants no words about it */
	if (count->write_fault != 0 && count->write_fault != EPIPE)
		fprintf(stderr, "rigbudget batch: standard output: %s\n",
			strerror(count->write_fault));
	if (read_fault != 0)
		fprintf(stderr, "rigbudget batch: standard input: %s\n", strerror(read_fault));
	if (count->write_fault != 0 || read_fault != 0)
		return EXIT_FILES;
	if (interrupted) {
		fprintf(stderr, "rigbudget batch: stopped after %zu whole lines\n", count->n_lines);
		return EXIT_INTERRUPTED;
	}
	return count->n_failed > 0 ? EXIT_INPUT : EXIT_FINE;
}

int run_batch(const cli_options *options)
{
	cli_session session = {0};
	batch_wish wish = {
		.full = options->detail != 0, .options = answer_options(&session, options)};
	wish.options.answers_only = !wish.full;
	const int status =
		read_questions(options->questions != NULL ? options->questions : USUAL, &wish);
	if (status != EXIT_FINE)
		return status;
	const size_t n_threads = wish.options.n_threads;
	/* each line is one thread's work */
	wish.options.n_threads = 1;
	wish.options.progress = NULL;
	wish.options.context = NULL;
	heed_signals();
	batch_feed *feed = batch_feed_new(
		options->arguments, options->n_arguments, STDIN_FILENO, &interrupted);
	if (feed == NULL)
		return exit_for(RIG_NO_MEMORY);
	/* on a terminal the lines themselves say how far it is */
	if (isatty(STDOUT_FILENO) == 1)
		session.progress.on_terminal = false;
	const batch_work work = {feed, &wish, n_threads, STDOUT_FILENO, tell, &session.progress};
	const batch_count count = batch_run(&work);
	progress_end(&session.progress);
	const int result = exit_for_count(&count, batch_feed_fault(feed));
	batch_feed_free(feed);
	return result;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/file.h"

#include <dirent.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "suites.h"

static char folder[64];
static rig_diags *diags;

static const char *in_folder(const char *name)
{
	static char path[4][512];
	static int next;
	char *made = path[next++ % 4];
	snprintf(made, sizeof path[0], "%s/%s", folder, name);
	return made;
}

static void set_up(void)
{
	snprintf(folder, sizeof folder, "/tmp/rig-test-XXXXXX");
	ck_assert_ptr_nonnull(mkdtemp(folder));
	diags = rig_diags_new();
}

/* Removes every entry of the folder and gives their number. */
static int empty_folder(void)
{
	int n = 0;
	DIR *open = opendir(folder);
	for (struct dirent *it = readdir(open); it != NULL; it = readdir(open)) {
		if (strcmp(it->d_name, ".") == 0 || strcmp(it->d_name, "..") == 0)
			continue;
		ck_assert_int_eq(remove(in_folder(it->d_name)), 0);
		n++;
	}
	closedir(open);
	return n;
}

static void tear_down(void)
{
	chmod(folder, 0700);
	empty_folder();
	rmdir(folder);
	rig_diags_free(diags);
}

static void put(const char *path, const char *text)
{
	FILE *file = fopen(path, "wb");
	ck_assert_ptr_nonnull(file);
	fputs(text, file);
	fclose(file);
}

static void check_holds(const char *path, const char *text)
{
	rig_buffer read = {0};
	ck_assert_int_eq(rig_file_read(path, 1000, &read, diags), RIG_OK);
	ck_assert_str_eq(read.text, text);
	rig_buffer_free(&read);
}

static void check_fault(rig_status status, rig_status expected, const char *words)
{
	ck_assert_int_eq(status, expected);
	ck_assert_uint_eq(rig_diags_faults(diags), 1);
	const rig_diag *fault = rig_diags_at(diags, 0);
	ck_assert_msg(strstr(fault->what, words) != NULL, "said: %s", fault->what);
	ck_assert_uint_eq(fault->where.line, 0);
}

static rig_status write_text(const char *path, const char *text)
{
	return rig_file_write(path, text, strlen(text), diags);
}

START_TEST(what_is_written_is_read)
{
	char every_byte[256];
	for (int i = 0; i < 256; i++)
		every_byte[i] = (char)i;
	const char *path = in_folder("coach.rig.json");
	ck_assert_int_eq(rig_file_write(path, every_byte, 256, diags), RIG_OK);
	rig_buffer read = {0};
	ck_assert_int_eq(rig_file_read(path, 256, &read, diags), RIG_OK);
	ck_assert_uint_eq(read.length, 256);
	ck_assert_mem_eq(read.text, every_byte, 256);
	rig_buffer_free(&read);
	ck_assert_int_eq(write_text(path, ""), RIG_OK);
	check_holds(path, "");
	ck_assert_uint_eq(rig_diags_count(diags), 0);
	ck_assert_int_eq(empty_folder(), 1);
}
END_TEST

START_TEST(a_large_file_is_read_and_written_whole)
{
	const size_t length = 1000003;
	char *text = malloc(length);
	for (size_t i = 0; i < length; i++)
		text[i] = (char)(i * 31 >> 3);
	const char *path = in_folder("large");
	ck_assert_int_eq(rig_file_write(path, text, length, diags), RIG_OK);
	rig_buffer read = {0};
	ck_assert_int_eq(rig_file_read(path, length, &read, diags), RIG_OK);
	ck_assert_uint_eq(read.length, length);
	ck_assert_mem_eq(read.text, text, length);
	rig_buffer_free(&read);
	free(text);
}
END_TEST

START_TEST(a_file_longer_than_the_limit_is_refused)
{
	put(in_folder("ten"), "0123456789");
	rig_buffer read = {0};
	ck_assert_int_eq(rig_file_read(in_folder("ten"), 10, &read, diags), RIG_OK);
	rig_buffer_free(&read);
	check_fault(rig_file_read(in_folder("ten"), 9, &read, diags), RIG_BAD_INPUT,
		"longer than the 9 bytes allowed");
	rig_buffer_free(&read);
}
END_TEST

/* It never ends; only the limit stops the reading. */
START_TEST(an_endless_input_is_refused_at_the_limit)
{
	rig_buffer read = {0};
	check_fault(rig_file_read("/dev/zero", 100000, &read, diags), RIG_BAD_INPUT, "longer");
	rig_buffer_free(&read);
}
END_TEST

START_TEST(a_missing_file_or_a_folder_cannot_be_read)
{
	rig_buffer read = {0};
	check_fault(rig_file_read(in_folder("none"), 10, &read, diags), RIG_IO,
		"cannot be opened: there is no such file");
	rig_diags_free(diags);
	diags = rig_diags_new();
	check_fault(rig_file_read(folder, 10, &read, diags), RIG_IO, "it is a folder");
	rig_buffer_free(&read);
}
END_TEST

START_TEST(the_mode_of_a_file_that_exists_is_kept)
{
	static const mode_t MODE[] = {0600, 0644, 0755, 0664};
	const char *path = in_folder("coach");
	put(path, "old");
	for (int i = 0; i < COUNT(MODE); i++) {
		struct stat about;
		chmod(path, MODE[i]);
		ck_assert_int_eq(write_text(path, "new"), RIG_OK);
		ck_assert_int_eq(stat(path, &about), 0);
		ck_assert_uint_eq(about.st_mode & 07777, MODE[i]);
	}
}
END_TEST

START_TEST(a_new_file_has_the_mode_that_the_mask_leaves)
{
	static const mode_t MASK[] = {022, 077, 002};
	for (int i = 0; i < COUNT(MASK); i++) {
		const mode_t before = umask(MASK[i]);
		ck_assert_int_eq(write_text(in_folder("coach"), "new"), RIG_OK);
		umask(before);
		struct stat about;
		ck_assert_int_eq(stat(in_folder("coach"), &about), 0);
		ck_assert_uint_eq(about.st_mode & 07777, 0666 & ~MASK[i]);
		remove(in_folder("coach"));
	}
}
END_TEST

START_TEST(a_symbolic_link_stays_and_its_file_is_written)
{
	put(in_folder("real"), "old");
	ck_assert_int_eq(symlink("real", in_folder("near")), 0);
	ck_assert_int_eq(symlink(in_folder("near"), in_folder("far")), 0);
	ck_assert_int_eq(symlink("new", in_folder("dangling")), 0);
	ck_assert_int_eq(write_text(in_folder("far"), "text"), RIG_OK);
	check_holds(in_folder("real"), "text");
	ck_assert_int_eq(write_text(in_folder("dangling"), "other"), RIG_OK);
	check_holds(in_folder("new"), "other");
	struct stat about;
	ck_assert_int_eq(lstat(in_folder("far"), &about), 0);
	ck_assert(S_ISLNK(about.st_mode));
	ck_assert_int_eq(lstat(in_folder("near"), &about), 0);
	ck_assert(S_ISLNK(about.st_mode));
	ck_assert_int_eq(empty_folder(), 5);
}
END_TEST

START_TEST(links_in_a_ring_are_refused)
{
	ck_assert_int_eq(symlink("b", in_folder("a")), 0);
	ck_assert_int_eq(symlink("a", in_folder("b")), 0);
	check_fault(write_text(in_folder("a"), "text"), RIG_IO, "cannot be written");
}
END_TEST

START_TEST(only_a_regular_file_is_replaced)
{
	ck_assert_int_eq(mkfifo(in_folder("pipe"), 0600), 0);
	static const struct {
		const char *path, *words;
	} TARGET[] = {
		{"pipe", "a device or a pipe"},
		{"", "has no file name"},
		{".", "is a folder"},
		{"missing/", "has no file name"},
		{"missing/coach", "there is no such file or folder"},
		{"pipe/coach", "not a folder"},
	};
	for (int i = 0; i < COUNT(TARGET); i++) {
		rig_diags_free(diags);
		diags = rig_diags_new();
		check_fault(write_text(in_folder(TARGET[i].path), "text"), RIG_IO, TARGET[i].words);
	}
	rig_diags_free(diags);
	diags = rig_diags_new();
	check_fault(write_text("/dev/null", "text"), RIG_IO, "a device or a pipe");
	ck_assert_str_ne(rig_diags_at(diags, 0)->mend, "");
	struct stat about;
	ck_assert_int_eq(stat("/dev/null", &about), 0);
	ck_assert(S_ISCHR(about.st_mode));
	rig_diags_free(diags);
	diags = rig_diags_new();
	check_fault(write_text("", "text"), RIG_IO, "has no file name");
	ck_assert_int_eq(empty_folder(), 1);
}
END_TEST

START_TEST(a_name_that_is_too_long_is_refused)
{
	char name[300];
	memset(name, 'n', sizeof name - 1);
	name[sizeof name - 1] = '\0';
	check_fault(write_text(in_folder(name), "text"), RIG_IO, "too long");
	/* the longest name that fits: the name beside must not be longer */
	name[255] = '\0';
	ck_assert_int_eq(write_text(in_folder(name), "text"), RIG_OK);
	ck_assert_int_eq(empty_folder(), 1);
}
END_TEST

/* What a process of no special rights is told. Gives 0, or the number of the first wrong answer. */
static int try_without_rights(void)
{
	if (write_text(in_folder("coach"), "new") != RIG_IO)
		return 2;
	if (strstr(rig_diags_at(diags, 0)->what, "permission is missing") == NULL)
		return 3;
	if (write_text(in_folder("locked"), "new") != RIG_IO)
		return 4;
	if (strstr(rig_diags_at(diags, 1)->what, "protected against writing") == NULL)
		return 5;
	rig_buffer read = {0};
	if (rig_file_read(in_folder("secret"), 10, &read, diags) != RIG_IO)
		return 6;
	return strstr(rig_diags_at(diags, 2)->what, "permission is missing") == NULL ? 7 : 0;
}

/* In a folder that may be written but not read the new file stands, yet nothing confirms it. */
static int try_unreadable_folder(void)
{
	if (write_text(in_folder("coach"), "new") != RIG_NOT_SAVED_SURELY)
		return 2;
	return strstr(rig_diags_at(diags, 0)->what, "did not confirm") == NULL ? 3 : 0;
}

static void check_in_child(int (*try)(void))
{
	const pid_t child = fork();
	if (child == 0) {
		const bool plain = geteuid() != 0 || (setgid(65534) == 0 && setuid(65534) == 0);
		_exit(plain ? try() : 1);
	}
	int end = -1;
	ck_assert_int_eq(waitpid(child, &end, 0), child);
	ck_assert(WIFEXITED(end));
	ck_assert_int_eq(WEXITSTATUS(end), 0);
}

START_TEST(a_save_that_nothing_confirms_is_told)
{
	chmod(folder, 0333);
	check_in_child(try_unreadable_folder);
	chmod(folder, 0755);
	check_holds(in_folder("coach"), "new");
	ck_assert_int_eq(empty_folder(), 1);
}
END_TEST

START_TEST(missing_permissions_are_told)
{
	put(in_folder("locked"), "old");
	put(in_folder("secret"), "old");
	chmod(in_folder("locked"), 0444);
	chmod(in_folder("secret"), 0000);
	chmod(folder, 0555);
	check_in_child(try_without_rights);
	chmod(folder, 0755);
	chmod(in_folder("secret"), 0600);
	check_holds(in_folder("locked"), "old");
	ck_assert_int_eq(empty_folder(), 2);
}
END_TEST

/* A limit on the size of files makes the writing fail in the middle. */
START_TEST(a_failure_in_the_middle_leaves_the_old_file_and_nothing_beside)
{
	put(in_folder("coach"), "old");
	char *text = calloc(1, 100000);
	struct rlimit before;
	getrlimit(RLIMIT_FSIZE, &before);
	signal(SIGXFSZ, SIG_IGN);
	setrlimit(RLIMIT_FSIZE, &(struct rlimit){50000, before.rlim_max});
	const rig_status status = rig_file_write(in_folder("coach"), text, 100000, diags);
	setrlimit(RLIMIT_FSIZE, &before);
	free(text);
	check_fault(status, RIG_IO, "cannot be written");
	check_holds(in_folder("coach"), "old");
	ck_assert_int_eq(empty_folder(), 1);
}
END_TEST

/* Standard output or input is another file for as long as a call lasts. */
static int redirect(int fd, const char *path, int flags)
{
	const int kept = dup(fd), other = open(path, flags, 0600);
	ck_assert_int_ge(kept, 0);
	ck_assert_int_ge(other, 0);
	ck_assert_int_eq(dup2(other, fd), fd);
	close(other);
	return kept;
}

static void restore(int fd, int kept)
{
	ck_assert_int_eq(dup2(kept, fd), fd);
	close(kept);
}

START_TEST(a_dash_is_standard_output_and_input)
{
	fflush(stdout);
	int kept = redirect(STDOUT_FILENO, in_folder("out"), O_WRONLY | O_CREAT | O_TRUNC);
	const rig_status status = write_text("-", "twelve volts");
	restore(STDOUT_FILENO, kept);
	ck_assert_int_eq(status, RIG_OK);
	check_holds(in_folder("out"), "twelve volts");
	kept = redirect(STDIN_FILENO, in_folder("out"), O_RDONLY);
	check_holds("-", "twelve volts");
	restore(STDIN_FILENO, kept);
}
END_TEST

START_TEST(a_full_output_is_noticed)
{
	fflush(stdout);
	const int kept = redirect(STDOUT_FILENO, "/dev/full", O_WRONLY);
	const rig_status status = write_text("-", "twelve volts");
	restore(STDOUT_FILENO, kept);
	check_fault(status, RIG_IO, "the disk is full");
}
END_TEST

/* Two writers use names of their own beside the file, so that neither spoils the other's. */
START_TEST(a_leftover_beside_is_not_touched)
{
	char name[64];
	snprintf(name, sizeof name, ".coach.rig-%ld-0", (long)getpid());
	put(in_folder(name), "of another");
	ck_assert_int_eq(write_text(in_folder("coach"), "new"), RIG_OK);
	check_holds(in_folder("coach"), "new");
	check_holds(in_folder(name), "of another");
	ck_assert_int_eq(empty_folder(), 2);
}
END_TEST

Suite *file_suite(void);
Suite *file_suite(void)
{
	Suite *suite = suite_create("file");
	TCase *all = tcase_create("all");
	tcase_add_checked_fixture(all, set_up, tear_down);
	tcase_add_test(all, what_is_written_is_read);
	tcase_add_test(all, a_large_file_is_read_and_written_whole);
	tcase_add_test(all, a_file_longer_than_the_limit_is_refused);
	tcase_add_test(all, an_endless_input_is_refused_at_the_limit);
	tcase_add_test(all, a_missing_file_or_a_folder_cannot_be_read);
	tcase_add_test(all, the_mode_of_a_file_that_exists_is_kept);
	tcase_add_test(all, a_new_file_has_the_mode_that_the_mask_leaves);
	tcase_add_test(all, a_symbolic_link_stays_and_its_file_is_written);
	tcase_add_test(all, links_in_a_ring_are_refused);
	tcase_add_test(all, only_a_regular_file_is_replaced);
	tcase_add_test(all, a_name_that_is_too_long_is_refused);
	tcase_add_test(all, missing_permissions_are_told);
	tcase_add_test(all, a_save_that_nothing_confirms_is_told);
	tcase_add_test(all, a_failure_in_the_middle_leaves_the_old_file_and_nothing_beside);
	tcase_add_test(all, a_dash_is_standard_output_and_input);
	tcase_add_test(all, a_full_output_is_noticed);
	tcase_add_test(all, a_leftover_beside_is_not_touched);
	suite_add_tcase(suite, all);
	return suite;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A program that does nothing: what starting a process costs here. */
int main(void)
{
	return 0;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* calendar.h: monthly figures as a course through the year. */
#ifndef WEATHER_CALENDAR_H
#define WEATHER_CALENDAR_H

/* A monthly figure on a day, along straight lines between the middles of the months. */
double calendar_normal(const double months[12], int day_of_year);

#endif

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* size_words.h: an upgrade as it is wished, out of words. */
#ifndef ANSWER_SIZE_WORDS_H
#define ANSWER_SIZE_WORDS_H

#include "answer/asking.h"

/* Sets in options, which hold what is usual, what the words of the asking's options say; they then
 * point to the obstacles of the asking. RIG_NOT_FOUND after a fault about the first word that
 * cannot be read. */
rig_status rig_size_words_read(rig_asking *asking, rig_size_options *options);
/* Sets in the asking which options are to be compared; status as above. */
rig_status rig_size_compared(rig_asking *asking);

#endif

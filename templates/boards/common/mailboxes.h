/*
 * Transmit mailboxes in software, for drivers that send one frame after the other and give none
 * back: three frames of a bus wait here, and the one that wins arbitration is handed over when the
 * driver has sent the one before.
 */
#ifndef MAILBOXES_H
#define MAILBOXES_H

#include <stdbool.h>
#include <stdint.h>

#include "locum_frame.h"

#define MAILBOXES 3u

/* All zeros: empty. */
typedef struct {
    locum_frame frames[MAILBOXES];
    bool waits[MAILBOXES];
    bool handed;   /* the driver has frames[driven] */
    bool unwanted; /* that one was withdrawn */
    uint8_t driven;
} mailboxes;

/* False: no room, or a frame with the same identifier still waits. */
bool mailboxes_put(mailboxes *boxes, const locum_frame *frame);

/* The frame to hand over next; null if none waits, or the driver is not done. */
const locum_frame *mailboxes_next(const mailboxes *boxes);

/* The driver has taken the frame that mailboxes_next gave. */
void mailboxes_hand_over(mailboxes *boxes, const locum_frame *frame);

/* True while the driver has a frame. */
bool mailboxes_driver_has(const mailboxes *boxes);

/* The driver has sent its frame. */
void mailboxes_sent(mailboxes *boxes);

/* The driver has lost its frame, which waits again unless it was withdrawn. */
void mailboxes_lost(mailboxes *boxes);

/* True while a frame with this identifier waits or is with the driver. */
bool mailboxes_hold(const mailboxes *boxes, uint32_t id);

/* Forgets all but the driver's frame. */
void mailboxes_withdraw(mailboxes *boxes);

#endif

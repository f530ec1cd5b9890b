#include "mailboxes.h"

#define MARKS (LOCUM_ID_EXTENDED | LOCUM_ID_FD | LOCUM_ID_SWITCH_RATE)

/* The identifier as the wire sees it: base, then RTR or SRR, IDE, then the extension. */
static uint32_t order_of(uint32_t id)
{
    const uint32_t bits = id & ~MARKS;

    if ((id & LOCUM_ID_EXTENDED) == 0u) {
        return bits << 20;
    }
    return (bits >> 18) << 20 | 3u << 18 | (bits & 0x3FFFFu);
}

bool mailboxes_hold(const mailboxes *boxes, uint32_t id)
{
    for (uint8_t i = 0; i < MAILBOXES; i++) {
        if (boxes->waits[i] && boxes->frames[i].id == id) {
            return true;
        }
    }
    return false;
}

bool mailboxes_put(mailboxes *boxes, const locum_frame *frame)
{
    if (mailboxes_hold(boxes, frame->id)) {
        return false;
    }
    for (uint8_t i = 0; i < MAILBOXES; i++) {
        if (!boxes->waits[i]) {
            boxes->frames[i] = *frame;
            boxes->waits[i] = true;
            return true;
        }
    }
    return false;
}

const locum_frame *mailboxes_next(const mailboxes *boxes)
{
    const locum_frame *first = 0;

    for (uint8_t i = 0; i < MAILBOXES && !boxes->handed; i++) {
        const locum_frame *const frame = &boxes->frames[i];

        if (boxes->waits[i] && (first == 0 || order_of(frame->id) < order_of(first->id))) {
            first = frame;
        }
    }
    return first;
}

void mailboxes_hand_over(mailboxes *boxes, const locum_frame *frame)
{
    boxes->driven = (uint8_t)(frame - boxes->frames);
    boxes->handed = true;
    boxes->unwanted = false;
}

bool mailboxes_driver_has(const mailboxes *boxes)
{
    return boxes->handed;
}

void mailboxes_sent(mailboxes *boxes)
{
    if (boxes->handed) {
        boxes->waits[boxes->driven] = false;
        boxes->handed = false;
    }
}

void mailboxes_lost(mailboxes *boxes)
{
    if (boxes->handed && boxes->unwanted) {
        boxes->waits[boxes->driven] = false;
    }
    boxes->handed = false;
}

void mailboxes_withdraw(mailboxes *boxes)
{
    for (uint8_t i = 0; i < MAILBOXES; i++) {
        boxes->waits[i] = boxes->handed && i == boxes->driven;
    }
    boxes->unwanted = true;
}

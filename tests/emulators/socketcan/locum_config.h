/* What the stub needs of the core's types. */
#ifndef LOCUM_CONFIG_H
#define LOCUM_CONFIG_H

#define LOCUM_MAX_LENGTH 64u
#define LOCUM_RECEIVES 0u
#define LOCUM_CHANNELS 0u
#define LOCUM_NODES 0u
#define LOCUM_EVENTS 0u
#define LOCUM_TRIGGERS 0u
#define LOCUM_LAPS 0
#define LOCUM_PERIODS 0
#define LOCUM_BURSTS 0
#define LOCUM_LIVE 0
#define LOCUM_GUARDS 1
#define LOCUM_GUARD_FOREIGN 0
#define LOCUM_GUARD_BUS_OFF 0
#define LOCUM_GUARD_KEEP 0

#endif

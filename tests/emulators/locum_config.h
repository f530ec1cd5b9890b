/* What the models of the emulated boards need of the core's types. */
#ifndef LOCUM_CONFIG_H
#define LOCUM_CONFIG_H

#define LOCUM_MAX_LENGTH 8u
#define LOCUM_RECEIVES 0u

#endif

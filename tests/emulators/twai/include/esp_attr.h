#pragma once

#define IRAM_ATTR

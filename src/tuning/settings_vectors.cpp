#include "tuning/settings_vectors.hpp"

BOXROOM_VECTOR_TABLE(SettingsVectors, settings_vectors)

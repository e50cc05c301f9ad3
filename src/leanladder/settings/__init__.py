"""Where the program keeps its things, how it is set up, and its log; knows nothing else of ours."""

from leanladder.settings.config import KEYS, Key, Setting, load
from leanladder.settings.folders import cache_folder, config_file, data_folder, log_file
from leanladder.settings.log import start_log, stop_log
from leanladder.settings.problems import SettingsError

__all__ = [
    "KEYS",
    "Key",
    "Setting",
    "SettingsError",
    "cache_folder",
    "config_file",
    "data_folder",
    "load",
    "log_file",
    "start_log",
    "stop_log",
]

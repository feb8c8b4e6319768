"""How does a TOML file become a kit, and how is each mistake in it named?"""

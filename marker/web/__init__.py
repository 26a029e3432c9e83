"""Local pages: settle what was referred, see the class at a glance, practise."""

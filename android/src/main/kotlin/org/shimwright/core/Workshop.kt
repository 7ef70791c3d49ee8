package org.shimwright.core

class Workshop
